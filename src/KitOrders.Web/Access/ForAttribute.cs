using KitOrders.Rules.People;
using Microsoft.AspNetCore.Authorization;

namespace KitOrders.Web.Access;

/// <summary>Whose page this is: <c>@attribute [For(Roles.Planner | Roles.Manager)]</c>. Any one of the roles opens it.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class ForAttribute : AuthorizeAttribute
{
    public ForAttribute(Roles anyOf)
    {
        AnyOf = anyOf;
        Roles = string.Join(',', RoleText.Each(anyOf));
    }

    public Roles AnyOf { get; }
}
