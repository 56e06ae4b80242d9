using FluentValidation;
using FluentValidation.Internal;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Forms;

namespace KitOrders.Web.Shared;

/// <summary>
/// Inside an EditForm: says at once what cannot be taken by its shape alone (empty, too long). All that needs the record is
/// decided by the operation, whose refusal the form shows.
/// </summary>
public sealed class Shape : ComponentBase, IDisposable
{
    ValidationMessageStore messages = default!;

    [CascadingParameter] EditContext Form { get; set; } = default!;

    [Parameter, EditorRequired] public IValidator Of { get; set; } = default!;

    protected override void OnInitialized()
    {
        messages = new ValidationMessageStore(Form);
        Form.OnValidationRequested += CheckAll;
        Form.OnFieldChanged += CheckField;
    }

    void CheckAll(object? sender, ValidationRequestedEventArgs e) => Check(null);

    void CheckField(object? sender, FieldChangedEventArgs e) => Check(e.FieldIdentifier);

    void Check(FieldIdentifier? only)
    {
        IValidatorSelector all = ValidatorOptions.Global.ValidatorSelectors.DefaultValidatorSelectorFactory();
        var failures = Of.Validate(new ValidationContext<object>(Form.Model, new PropertyChain(), all)).Errors;
        if (only is { } field)
        {
            messages.Clear(field);
        }
        else
        {
            messages.Clear();
        }

        foreach (var failure in failures.Where(f => only is null || f.PropertyName == only.Value.FieldName))
        {
            messages.Add(Form.Field(failure.PropertyName), failure.ErrorMessage);
        }

        Form.NotifyValidationStateChanged();
    }

    public void Dispose()
    {
        Form.OnValidationRequested -= CheckAll;
        Form.OnFieldChanged -= CheckField;
    }
}
