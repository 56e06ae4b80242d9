namespace KitOrders.Rules;

/// <summary>
/// Something that stands against releasing a revision: a stable code, where (a step or line; null for the whole), and a
/// sentence that says what to do. Findings about safety are warnings when a file is imported and refuse a release in the editor.
/// </summary>
/// <param name="WarningOnImport">An import goes on with it; every other finding refuses the import too.</param>
public sealed record ReleaseFinding(string Code, string? Where, string Sentence, bool WarningOnImport = false);
