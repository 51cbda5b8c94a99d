using System.Collections.Immutable;
using System.Diagnostics;
using System.IO.Compression;
using System.Text.RegularExpressions;
using Pairbench.Footwear;
using Pairbench.Footwear.Tests;
using Pairbench.Measuring;
using Pairbench.Reporting.CorrectionSheets;
using UglyToad.PdfPig;

namespace Pairbench.Reporting.Tests;

public sealed class CorrectionSheetTests
{
    private const string Glue = "walk-round/main/glue";

    private static readonly Glossary Words = DataFolder.Catalogue.Read<Glossary>(Glossary.File);

    private static readonly Review Asking = InventedReview.Review with
    {
        Corrections = new Corrections("vi", "Line 4", new DateOnly(2026, 12, 10), ImmutableDictionary<string, CorrectionItem>.Empty.Add(Glue, new CorrectionItem(new DateOnly(2026, 12, 1), "M. Owner"))),
    };

    private static CorrectionSheet Sheet => CorrectionSheet.Of(InventedReview.Examined, Asking);

    [Fact]
    public void TheGravestComesFirstAndAFigureOutsideItsLimitStandsForItself()
    {
        var outside = InventedReview.Examined.Outcomes.SelectMany(o => o.Figures).Count(f => f.Ruling == Ruling.Outside);

        Assert.Equal(Sheet.Lines.Select(l => l.Severity).OrderDescending(), Sheet.Lines.Select(l => l.Severity));
        Assert.Equal(Enumerable.Range(1, Sheet.Lines.Length), Sheet.Lines.Select(l => l.Number));
        Assert.Equal(outside, Sheet.Lines.Count(l => l.Figure?.Ruling == Ruling.Outside));
        var glue = Sheet.Lines.Single(l => l.Address.ToString() == Glue);
        Assert.Equal((new DateOnly(2026, 12, 1), "M. Owner", "Wipe with a damp cloth before the oven."), (glue.By, glue.Owner, glue.WhatToDo));
        Assert.Equal(new DateOnly(2026, 12, 10), Sheet.Lines[0].By);
    }

    [Fact]
    public void AFigureOutsideItsLimitIsToComeIntoIt()
    {
        var examined = InventedReview.Examined;
        var sheet = CorrectionSheet.Of(examined with { Outcomes = [.. examined.Outcomes.Select(o => o with { Figures = [.. o.Figures.Select(f => f with { Component = "outsole" })] })] }, Asking);
        var alone = sheet.Lines.Where(l => l.Finding is null).ToList();

        Assert.NotEmpty(alone);
        Assert.All(alone, l => Assert.Equal($"bring it to {l.Limit}; measured {l.Measured}", Words.WhatToDo(l, null)));
        Assert.All(alone, l => Assert.Equal("outsole", l.Component));
        Assert.Contains("đưa về", Words.WhatToDo(alone[0], Words.Language("vi")), StringComparison.Ordinal);
        Assert.Equal("Wipe it.", Words.WhatToDo(alone[0] with { WhatToDo = "Wipe it." }, Words.Language("vi")));
    }

    [Theory]
    [InlineData(null, "Correction sheet", "By when")]
    [InlineData("vi", "Phiếu yêu cầu khắc phục", "Thời hạn")]
    [InlineData("zh-hans", "整改通知单", "完成期限")]
    [InlineData("id", "Lembar perbaikan", "Batas waktu")]
    [InlineData("pt", "Folha de correções", "Prazo")]
    public void ThePdfHasTheWordsOfEachLanguageAsText(string? language, string title, string by)
    {
        var pdf = Write(CorrectionFiles.Pdf, language);

        using var document = PdfDocument.Open(pdf);
        var text = string.Concat(document.GetPages().Select(p => Squeezed(p.Text)));
        Assert.Contains(Squeezed(title), text, StringComparison.Ordinal);
        Assert.Contains(Squeezed(by), text, StringComparison.Ordinal);
        Assert.DoesNotContain("Nofontonthismachine", text, StringComparison.Ordinal);
        Assert.Equal(1 + Sheet.Lines.Length, document.NumberOfPages);
    }

    [Fact]
    public void UncheckedWordsAreOwnedUpTo() => Assert.Contains("not checked by a native speaker", System.Text.Encoding.UTF8.GetString(Write(CorrectionFiles.Html, "id")), StringComparison.Ordinal);

    /// <summary>The sheet has figures and no budgets: nothing to lead to.</summary>
    [Fact]
    public void EveryLinkOfTheSheetHasItsPlace()
    {
        var html = System.Text.Encoding.UTF8.GetString(Write(CorrectionFiles.Html, null));
        var places = Regex.Matches(html, "(?<![a-z-])id=\"([^\"]+)\"").Select(m => m.Groups[1].Value).ToHashSet(StringComparer.Ordinal);
        var links = Regex.Matches(html, "href=\"#([^\"]+)\"").Select(m => m.Groups[1].Value).ToList();

        Assert.Contains("±", html, StringComparison.Ordinal);
        Assert.NotEmpty(links);
        Assert.All(links, l => Assert.Contains(l, places));
    }

    [Fact]
    public void EveryTermHasEveryLanguage() => Assert.All(Words.Terms, t => Assert.Equal(Words.Languages.Select(l => l.Id).Order(), t.Translations.Keys.Order()));

    [Fact]
    public void ASheetThatComesBackUntouchedHasNoAnswer() =>
        Assert.Empty(Read(Write(CorrectionFiles.Workbook, "vi")).Replies);

    [Fact]
    public void AnAnswerIsReadInAnyLanguage()
    {
        var item = new CorrectionItem(Reply: new CorrectionReply(ReplyState.Disputed, "gap < 1 mm & fine", "N. Factory", new DateOnly(2026, 12, 3)));
        var answered = CorrectionSheet.Of(InventedReview.Examined, Asking with { Corrections = new Corrections(Items: ImmutableDictionary<string, CorrectionItem>.Empty.Add(Glue, item)) });

        foreach (var language in Words.Languages)
        {
            var replies = Read(CorrectionWorkbook.Write(answered, Words, language)).Replies;
            Assert.Equal(item.Reply, Assert.Single(replies).Value);
        }
    }

    [Fact]
    public async Task ASheetFilledInElsewhereComesBack()
    {
        using var folder = new TemporaryFolder();
        var sent = Path.Combine(folder.Path, "sent.xlsx");
        await File.WriteAllBytesAsync(sent, Filled(Write(CorrectionFiles.Workbook, "vi")), TestContext.Current.CancellationToken);
        await Office(folder.Path, "--convert-to", "ods", sent);
        Directory.CreateDirectory(Path.Combine(folder.Path, "back"));
        await Office(folder.Path, "--convert-to", "xlsx", "--outdir", Path.Combine(folder.Path, "back"), Path.Combine(folder.Path, "sent.ods"));

        var replies = Read(await File.ReadAllBytesAsync(Path.Combine(folder.Path, "back", "sent.xlsx"), TestContext.Current.CancellationToken)).Replies;

        Assert.Equal(new CorrectionReply(ReplyState.Done, "wiped, 23 pairs", "N. Factory", new DateOnly(2026, 12, 4)), replies[Glue]);
        Assert.Single(replies);
    }

    [Fact]
    public void AColumnMayBeCopiedAsLongAsBothSayTheSame()
    {
        var filled = Filled(Write(CorrectionFiles.Workbook, "vi"));

        Assert.Equal(ReplyState.Done, Read(Changed(filled, xml => Copied(xml, "M", "Q", "đã xong"))).Replies[Glue].State);
        Assert.Equal(ReplyState.Done, Read(Changed(filled, xml => Copied(xml, "M", "Q", ""))).Replies[Glue].State);
        var fault = Assert.Single(Assert.Throws<FaultsException>(() => Read(Changed(filled, xml => Copied(xml, "N", "Q", "not wiped")))).Faults);
        Assert.Contains("stands in the columns N and Q with different words", fault.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void EveryFaultOfAnAnswerIsNamedAndNoneIsTaken()
    {
        var item = new CorrectionItem(Reply: new CorrectionReply(ReplyState.Done));
        var bytes = CorrectionWorkbook.Write(CorrectionSheet.Of(InventedReview.Examined, Asking with { Corrections = new Corrections(Items: ImmutableDictionary<string, CorrectionItem>.Empty.Add(Glue, item)) }), Words, null);
        var wrong = Changed(bytes, xml => xml.Replace(">done<", ">perhaps<", StringComparison.Ordinal).Replace(">walk-round/main/glue<", ">walk-round/main/other<", StringComparison.Ordinal));

        var faults = Assert.Throws<FaultsException>(() => Read(wrong)).Faults;

        Assert.Equal(2, faults.Length);
        Assert.All(faults, f => Assert.StartsWith("back.xlsx, row ", f.Where, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("bulk 1", "quay-bulk-1", "bulk 2", "quay-bulk-2", "Quay, bulk 1")]
    [InlineData("bulk 1", "quay-bulk-1", "bulk 1", "quay-bulk-1-2", "Quay, bulk 1 (quay-bulk-1)")]
    [InlineData("bulk 1", "", "bulk 2", "quay-bulk-2", "Quay, bulk 1")]
    [InlineData("bulk 1", "", "bulk 2", "", "Quay, bulk 1")]
    public void TheSheetOfAnotherReviewIsRefusedThoughItsAddressesAreTheSame(string sentLabel, string sentId, string label, string id, string named)
    {
        var fault = Assert.Single(Assert.Throws<FaultsException>(() => Read(CorrectionWorkbook.Write(Answered(sentLabel, sentId), Words, null), Answered(label, id))).Faults);

        Assert.Equal($"is the sheet of another review: {named}", fault.What);
    }

    [Theory]
    [InlineData("bulk 1", "quay-bulk-1", "bulk 1, spring", "quay-bulk-1")]
    [InlineData("bulk 1", "", "bulk 1", "quay-bulk-1")]
    public void TheSheetOfTheReviewIsTakenThoughItsBuildWasRenamedOrItCameFromTheShell(string sentLabel, string sentId, string label, string id) =>
        Assert.Equal(ReplyState.Done, Read(CorrectionWorkbook.Write(Answered(sentLabel, sentId), Words, null), Answered(label, id)).Replies[Glue].State);

    /// <summary>Sheets that were sent out before they said whose they are.</summary>
    [Fact]
    public void ASheetThatSaysNoReviewIsTaken()
    {
        var old = Changed(CorrectionWorkbook.Write(Answered("bulk 1", "quay-bulk-1"), Words, null), xml => xml.Replace(">key:build=Quay, bulk 1<", "><", StringComparison.Ordinal).Replace(">key:review=quay-bulk-1<", "><", StringComparison.Ordinal));

        Assert.Equal(ReplyState.Done, Read(old, Answered("bulk 2", "quay-bulk-2")).Replies[Glue].State);
    }

    [Fact]
    public void WhatTheReviewNoLongerAsksAboutIsToldAndTheOtherAnswersAreTaken()
    {
        var asked = Answered("bulk 1", "quay-bulk-1");
        var other = asked.Lines.First(l => l.Address.ToString() != Glue).Address;
        var sent = asked with { Lines = [.. asked.Lines.Select(l => l.Address == other ? l with { Reply = new CorrectionReply(ReplyState.Agreed) } : l)] };

        var replies = Read(CorrectionWorkbook.Write(sent, Words, null), asked with { Lines = [.. asked.Lines.Where(l => l.Address != other)] });

        Assert.Equal([Glue], replies.Replies.Keys);
        Assert.Contains($"answers '{other}', which this review no longer asks about", Assert.Single(replies.NoLongerAsked).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void WhatIsNoSheetIsRefusedInOneLine()
    {
        Assert.Single(Assert.Throws<FaultsException>(() => Read("no archive"u8.ToArray())).Faults);
        using var other = new MemoryStream();
        using (var zip = new ZipArchive(other, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var entry = zip.CreateEntry("xl/workbook.xml").Open();
            entry.Write("<x/>"u8);
        }

        Assert.Single(Assert.Throws<FaultsException>(() => Read(other.ToArray())).Faults);
        using var bomb = new MemoryStream();
        using (var zip = new ZipArchive(bomb, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var entry = zip.CreateEntry("xl/workbook.xml", CompressionLevel.Fastest).Open();
            var zeros = new byte[1 << 20];
            for (var i = 0; i < 70; i++)
            {
                entry.Write(zeros);
            }
        }

        Assert.Contains("unpacks", Assert.Throws<FaultsException>(() => Read(bomb.ToArray())).Faults.Single().What, StringComparison.Ordinal);
    }

    private static byte[] Write(string file, string? language) =>
        CorrectionFiles.Write(file, InventedReview.Examined, Asking with { Corrections = Asking.Corrections! with { Language = null } }, InventedReview.Photos, Words, InventedReview.Imprint, language);

    private static CorrectionReplies Read(byte[] content, CorrectionSheet? asked = null) => CorrectionWorkbook.Read(content, "back.xlsx", Words, asked ?? Sheet);

    /// <summary>A sheet on which the glue is answered.</summary>
    private static CorrectionSheet Answered(string label, string id) => CorrectionSheet.Of(
        InventedReview.Examined,
        Asking with
        {
            Style = new Style("Quay"),
            Build = new Build(label),
            Corrections = new Corrections(Items: ImmutableDictionary<string, CorrectionItem>.Empty.Add(Glue, new CorrectionItem(Reply: new CorrectionReply(ReplyState.Done)))),
        },
        id);

    /// <summary>Fills in the row of the glue as a factory would: the empty answer cells of that row.</summary>
    private static byte[] Filled(byte[] workbook) => Changed(workbook, xml =>
    {
        var row = xml.IndexOf(Glue, StringComparison.Ordinal);
        foreach (var (column, text) in new[] { ("M", "đã xong"), ("N", "wiped, 23 pairs"), ("O", "N. Factory"), ("P", "2026-12-04") })
        {
            var cell = xml.IndexOf($"r=\"{column}", row, StringComparison.Ordinal);
            var at = xml.IndexOf("<x:t", cell, StringComparison.Ordinal);
            var end = xml.IndexOf('>', at);
            xml = xml[end - 1] == '/' ? $"{xml[..(end - 1)]}>{text}</x:t>{xml[(end + 1)..]}" : $"{xml[..(end + 1)]}{text}{xml[(end + 1)..]}";
        }

        return xml;
    });

    /// <summary>Adds a column to the hidden row of keys and to the row of the glue, as copying a column and typing into the copy does.</summary>
    private static string Copied(string xml, string column, string copy, string text)
    {
        var key = xml[(xml.IndexOf("key:", xml.IndexOf($"r=\"{column}1\"", StringComparison.Ordinal), StringComparison.Ordinal))..];
        var heads = xml.IndexOf("</x:row>", StringComparison.Ordinal);
        xml = xml.Insert(heads, Cell($"{copy}1", key[..key.IndexOf('<', StringComparison.Ordinal)]));
        var glue = xml.IndexOf("</x:row>", xml.IndexOf(Glue, StringComparison.Ordinal), StringComparison.Ordinal);
        var start = xml.LastIndexOf("<x:row r=\"", glue, StringComparison.Ordinal) + "<x:row r=\"".Length;
        return xml.Insert(glue, Cell(copy + xml[start..xml.IndexOf('"', start)], text));

        static string Cell(string place, string words) => $"<x:c r=\"{place}\" t=\"inlineStr\"><x:is><x:t>{words}</x:t></x:is></x:c>";
    }

    private static byte[] Changed(byte[] workbook, Func<string, string> change)
    {
        using var memory = new MemoryStream();
        memory.Write(workbook);
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Update, leaveOpen: true))
        {
            var entry = zip.Entries.Single(e => e.FullName.StartsWith("xl/worksheets/", StringComparison.Ordinal));
            string xml;
            using (var reader = new StreamReader(entry.Open()))
            {
                xml = reader.ReadToEnd();
            }

            using var writer = new StreamWriter(entry.Open());
            writer.BaseStream.SetLength(0);
            writer.Write(change(xml));
        }

        return memory.ToArray();
    }

    private static string Squeezed(string text) => string.Concat(text.Where(c => !char.IsWhiteSpace(c))).Normalize();

    private static async Task Office(string folder, params string[] arguments)
    {
        var start = new ProcessStartInfo("soffice", ["--headless", "--norestore", $"-env:UserInstallation=file://{folder}/profile", .. arguments]) { WorkingDirectory = folder, RedirectStandardOutput = true, RedirectStandardError = true };
        using var process = Process.Start(start)!;
        var error = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        Assert.True(process.ExitCode == 0, await error);
    }

    private sealed class TemporaryFolder : IDisposable
    {
        public string Path { get; } = Directory.CreateTempSubdirectory("corrections").FullName;

        public void Dispose() => Directory.Delete(Path, recursive: true);
    }
}
