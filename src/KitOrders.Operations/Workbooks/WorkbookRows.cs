using System.Xml;

namespace KitOrders.Operations.Workbooks;

/// <summary>Reads the one sheet of a workbook that holds an import file. Macros, links to other files and data from outside are refused.</summary>
internal static class WorkbookRows
{
    const string ContentTypes = "[Content_Types].xml";
    const string Root = "";

    const string NoWorkbook = "The file is packed but holds no workbook. Save it as .xlsx in the spreadsheet.";

    /// <summary>The sheet named like the file, else the first, as rows of cells; null with errors when something in it cannot be taken.</summary>
    public static RawRows? Read(byte[] bytes, ImportSpec spec, ImportErrors errors, CancellationToken ct)
    {
        using var packed = PackedFile.Open(bytes, errors, ct);
        if (packed is null)
            return null;
        try
        {
            return Read(packed, spec, errors, ct);
        }
        catch (XmlException e)
        {
            errors.Add(0, "", $"The workbook cannot be read (line {e.LineNumber} of one of its parts): it is broken, or it declares a document type or entities, which are not taken. Save it again in the spreadsheet.");
        }
        catch (InvalidDataException)
        {
            errors.Add(0, "", "The file is packed wrongly or cut off. Save the workbook again in the spreadsheet.");
        }
        return null;
    }

    static RawRows? Read(PackedFile packed, ImportSpec spec, ImportErrors errors, CancellationToken ct)
    {
        var book = Links(packed, Root).FirstOrDefault(l => l.Is("officeDocument"))?.Part;
        if (book is null || !packed.Has(book) || !packed.Has(ContentTypes))
            return Refuse(errors, NoWorkbook);
        if (HasMacros(packed))
            return Refuse(errors, "The workbook holds macros or is made to. Save it as .xlsx without them.");
        var links = Links(packed, book);
        if (links.Any(l => l.Outside || l.Is("externalLink") || l.Is("connections")))
            return Refuse(errors, "The workbook is linked to other files or data outside it. Break the links and save it with values alone.");
        var (sheets, from1904) = Sheets(packed, book);
        if (sheets.Count == 0)
            return Refuse(errors, NoWorkbook);
        var (name, id) = sheets.Find(s => string.Equals(s.Name, spec.File, StringComparison.OrdinalIgnoreCase)) is { Name: not null } named ? named : sheets[0];
        if (links.Find(l => l.Id == id && l.Is("worksheet")) is not { } link || !packed.Has(link.Part))
            return Refuse(errors, $"Sheet {name} holds no rows. Put the rows on the first sheet, or on one named {spec.File}.");
        var texts = SharedTexts(packed, links.Find(l => l.Is("sharedStrings"))?.Part, ct);
        var formats = CellFormats.Read(packed, links.Find(l => l.Is("styles"))?.Part);
        return new SheetRows(name, spec, errors, texts, formats, from1904).Read(packed.Read(link.Part), ct);
    }

    static RawRows? Refuse(ImportErrors errors, string sentence)
    {
        errors.Add(0, "", sentence);
        return null;
    }

    static bool HasMacros(PackedFile packed)
    {
        using var xml = packed.Read(ContentTypes);
        while (xml.Read())
            if (xml.GetAttribute("ContentType") is { } type
                && (type.Contains("macro", StringComparison.OrdinalIgnoreCase) || type.Contains("vba", StringComparison.OrdinalIgnoreCase)))
                return true;
        return false;
    }

    static (List<(string Name, string Id)> Sheets, bool From1904) Sheets(PackedFile packed, string book)
    {
        var sheets = new List<(string, string)>();
        var from1904 = false;
        using var xml = packed.Read(book);
        while (xml.Read())
        {
            if (xml.NodeType != XmlNodeType.Element)
                continue;
            if (xml.LocalName == "workbookPr")
                from1904 = xml.GetAttribute("date1904") is "1" or "true";
            else if (xml.LocalName == "sheet" && xml.GetAttribute("name") is { } name && IdOf(xml) is { } id)
                sheets.Add((name, id));
        }
        return (sheets, from1904);
    }

    /// <summary>The id of the link; its namespace has two names, one a generation of the format.</summary>
    static string? IdOf(XmlReader xml)
    {
        string? id = null;
        for (var more = xml.MoveToFirstAttribute(); more; more = xml.MoveToNextAttribute())
            if (xml.LocalName == "id" && xml.NamespaceURI.EndsWith("/relationships", StringComparison.Ordinal))
                id = xml.Value;
        xml.MoveToElement();
        return id;
    }

    sealed record Link(string Id, string Type, string Part, bool Outside)
    {
        public bool Is(string what) => Type.EndsWith("/" + what, StringComparison.Ordinal);
    }

    /// <summary>What a part of the workbook leads to.</summary>
    static List<Link> Links(PackedFile packed, string part)
    {
        var folder = part[..(part.LastIndexOf('/') + 1)];
        var list = $"{folder}_rels/{part[folder.Length..]}.rels";
        var links = new List<Link>();
        if (!packed.Has(list))
            return links;
        using var xml = packed.Read(list);
        while (xml.Read())
            if (xml.LocalName == "Relationship" && xml.GetAttribute("Id") is { } id && xml.GetAttribute("Target") is { } target)
                links.Add(new Link(id, xml.GetAttribute("Type") ?? "", Resolve(folder, target), xml.GetAttribute("TargetMode") == "External"));
        return links;
    }

    static string Resolve(string folder, string target)
    {
        var path = new List<string>();
        foreach (var step in (target.StartsWith('/') ? target : folder + target).Split('/', StringSplitOptions.RemoveEmptyEntries))
            if (step != "..")
                path.Add(step);
            else if (path.Count > 0)
                path.RemoveAt(path.Count - 1);
        return string.Join('/', path);
    }

    static List<string> SharedTexts(PackedFile packed, string? part, CancellationToken ct)
    {
        var texts = new List<string>();
        if (part is null || !packed.Has(part))
            return texts;
        using var xml = packed.Read(part);
        while (xml.Read())
            if (xml is { NodeType: XmlNodeType.Element, LocalName: "si" })
            {
                ct.ThrowIfCancellationRequested();
                texts.Add(SheetRows.TextOf(xml));
            }
        return texts;
    }
}
