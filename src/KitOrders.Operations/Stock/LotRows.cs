using KitOrders.Operations.Kits;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Stock;

/// <summary>The lots that the rows of a stock file name. A lot may lie in several bins, received and cured on one day.</summary>
sealed class LotRows
{
    const int QuarantineMaxLength = 500;
    const string NoCureDate = "No cure date is recorded";

    readonly ImportRun run;
    readonly Dictionary<(PartId, string), Lot> recorded;
    readonly HashSet<LotId> reserved;
    readonly Dictionary<(PartId, string), (CsvRow Row, Lot Lot)> named = [];
    readonly Dictionary<PartId, IReadOnlyList<Elastomer>> elastomers = [];
    readonly KitCatalogue catalogue;
    readonly Dictionary<PartId, IReadOnlyList<Elastomer>> own;

    LotRows(ImportRun run, Dictionary<(PartId, string), Lot> recorded, HashSet<LotId> reserved, KitCatalogue catalogue)
    {
        this.run = run;
        this.recorded = recorded;
        this.reserved = reserved;
        this.catalogue = catalogue;
        own = catalogue.Parts.ToDictionary(p => p.Key, p => p.Value.Elastomers);
    }

    public static async Task<LotRows> Load(ImportRun run, Dictionary<string, PartId> parts)
    {
        var ids = parts.Values.ToArray();
        var reserved = await run.Db.BinStocks.Where(s => ids.Contains(s.PartId) && s.Reserved > 0).Select(s => s.LotId).ToHashSetAsync(run.Ct);
        return new LotRows(run, await Recorded(run, ids), reserved, await KitCatalogue.Load(run.Db, ids, run.Ct));
    }

    static Task<Dictionary<(PartId, string), Lot>> Recorded(ImportRun run, PartId[] parts)
    {
        var numbers = run.Values("lot");
        return run.Db.Lots.AsNoTracking().Where(l => parts.Contains(l.PartId) && numbers.Contains(l.Number)).ToDictionaryAsync(l => (l.PartId, l.Number), run.Ct);
    }

    /// <summary>The lot as recorded before, if it was; its id finds what the bins hold of it.</summary>
    public Lot? Before(PartId part, string lot) => recorded.GetValueOrDefault((part, lot));

    /// <summary>Writes the lots; answers their ids.</summary>
    public async Task<Dictionary<(PartId, string), LotId>> Write()
    {
        await run.Write(named.Values.Select(n => n.Lot).ToList(), nameof(Lot.PartId), nameof(Lot.Number));
        var written = await Recorded(run, [.. named.Keys.Select(k => k.Item1).Distinct()]);
        return written.ToDictionary(l => l.Key, l => l.Value.Id);
    }

    public Lot LotOf(CsvRow row, PartId part)
    {
        var number = row.NeedText("lot", Lot.NumberMaxLength);
        if (named.TryGetValue((part, number), out var first))
        {
            if (first.Row["received_on"] != row["received_on"] || first.Row["cured_on"] != row["cured_on"] || first.Row["unit_cost"] != row["unit_cost"]
                || first.Row["quarantine"] != row["quarantine"])
                row.Refuse("lot", $"Lot {number} has other dates, another cost or another quarantine in row {first.Row.Number}. A lot was received and cured on one day, at one cost, and is in quarantine as a whole.");
            return first.Lot;
        }
        var before = Before(part, number);
        var lot = Read(row, part, number, before);
        if (before is not null && before.ExpiresOn != lot.ExpiresOn && reserved.Contains(before.Id))
            row.Refuse("cured_on", $"Lot {number} is reserved for orders, and another cure date would change its last good day. Free it first, or give what lies there another lot number.");
        named[(part, number)] = (row, lot);
        return lot;
    }

    Lot Read(CsvRow row, PartId part, string number, Lot? before)
    {
        var received = row.NeedDate("received_on");
        if (received > run.Today)
            row.Refuse("received_on", $"{received:yyyy-MM-dd} has not come yet. What is still to come belongs to the file incoming.");
        var cured = row.Has("cured_on") ? CuredOn(row) : before?.CuredOn;
        var (expires, quarantine) = before is not null && before.CuredOn == cured ? (before.ExpiresOn, before.Quarantine) : Judge(row, part, number, cured);
        var reason = Reason(row, number, before);
        return new Lot
        {
            PartId = part,
            Number = number,
            ReceivedOn = received,
            CuredOn = cured,
            ExpiresOn = expires,
            Quarantine = before?.Quarantine is { } other && !other.StartsWith(NoCureDate, StringComparison.Ordinal) ? other : quarantine ?? reason,
            UnitCost = row.Amount("unit_cost", Bounds.NotNegative, before?.UnitCost),
        };
    }

    /// <summary>Why a file says that the lot may not be used. A file puts into quarantine and never takes out of it.</summary>
    string? Reason(CsvRow row, string number, Lot? before)
    {
        if (row.Text("quarantine", QuarantineMaxLength) is not { } reason || reason.StartsWith(NoCureDate, StringComparison.Ordinal))
            return null;
        if (before is { Quarantine: null } && reserved.Contains(before.Id))
            row.Refuse("quarantine", $"Lot {number} is reserved for orders. Put it into quarantine on its part's page, where those orders are told.");
        return reason;
    }

    /// <summary>The last good day, and why the lot may not be used if it may not.</summary>
    (DateOnly Expires, string? Quarantine) Judge(CsvRow row, PartId part, string number, DateOnly? cured)
    {
        var inIt = Elastomers(part);
        if (cured is { } day)
            return (ShelfLife.ExpiresOn(day, inIt) ?? Lot.NoExpiry, null);
        if (!ShelfLife.NeedsCureDate(inIt))
            return (Lot.NoExpiry, null);
        var ageing = string.Join(", ", inIt.Where(e => e.Ages).Select(e => e.Code));
        run.Warn($"Lot {number} of part {row["part"]} has no cure date, and {ageing} ages. It is quarantined until one is recorded.");
        return (Lot.NoExpiry, $"{NoCureDate}, and {ageing} ages.");
    }

    /// <summary>The part's own and those in its box at every level.</summary>
    IReadOnlyList<Elastomer> Elastomers(PartId part)
    {
        if (!elastomers.TryGetValue(part, out var found))
            elastomers[part] = found = KitElastomers.Of(part, catalogue.Structures, own);
        return found;
    }

    DateOnly? CuredOn(CsvRow row)
    {
        if (row["cured_on"] is not { } text)
            return null;
        if (CsvRow.ReadDate(text, run.Today) is { } day)
            return NotAhead(day, day);
        var read = CureDate.Read(text, run.Today.Year);
        if (read.IsDone)
            // Of a quarter the last day counts, which lies ahead while the quarter runs.
            return NotAhead(read.Value, new DateOnly(read.Value.Year, read.Value.Month, 1).AddMonths(-2));
        row.Refuse("cured_on", read.Refusal!.Sentence);
        return null;

        DateOnly? NotAhead(DateOnly cured, DateOnly begun)
        {
            if (begun > run.Today)
                row.Refuse("cured_on", $"{text} has not begun yet: today is {run.Today:yyyy-MM-dd}. Read the label again.");
            return cured;
        }
    }
}
