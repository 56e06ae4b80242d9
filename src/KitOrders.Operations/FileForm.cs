namespace KitOrders.Operations;

/// <summary>How a file of rows is written.</summary>
public enum FileForm
{
    Csv,
    Xlsx,
}
