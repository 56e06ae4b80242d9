using KitOrders.Rules;
using KitOrders.Rules.People;

namespace KitOrders.Operations.People;

public sealed record NewToken(PersonId Person, string Label);

/// <param name="Token">Shown once; only its hash is kept.</param>
public sealed record MadeToken(int Id, string Token);

/// <summary>Makes a token with which a script acts as a person, with that person's roles.</summary>
public sealed class MakeToken(Desk desk)
{
    public const int LabelMaxLength = 100;

    public Task<Outcome<MadeToken>> Run(Call call, NewToken command, CancellationToken ct) =>
        // The answer holds a secret, so it is never kept for a repeated call.
        desk.Write<MadeToken>(call with { Key = null }, Roles.Administrator, nameof(MakeToken), async work =>
        {
            var found = await work.Person(command.Person);
            if (!found.IsDone)
                return found.Refusal!;
            var person = found.Value;
            if (Bootstrap.Is(person.Name))
                return Bootstrap.Reserved;
            if (!person.Active)
                return Refusal.Conflict("person-inactive", $"{person.Name} is off the list. Take them back onto it first.");
            var label = command.Label.Trim();
            if (label.Length is 0 or > LabelMaxLength)
                return Refusal.Field("label", "label-refused", $"Say in 1 to {LabelMaxLength} characters what the token is for, such as 'nightly stock import'.");
            var secret = "ko_" + Secrets.New();
            var token = new ApiToken { PersonId = person.Id, Label = label, Hash = Secrets.Hash(secret), MadeAt = work.Now };
            work.Db.ApiTokens.Add(token);
            await work.Db.SaveChangesAsync(work.Ct);
            work.Audit($"token '{label}' of {person.Name}", "Made.");
            work.Changed("tokens");
            return new MadeToken(token.Id, secret);
        }, ct);
}
