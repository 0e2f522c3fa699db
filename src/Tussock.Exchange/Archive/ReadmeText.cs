using System.Text;
using Tussock.Words;

namespace Tussock.Exchange.Archive;

/// <summary>The page that explains an archive to somebody who has never heard of simulated nests.</summary>
internal static class ReadmeText
{
    /// <summary>Its file.</summary>
    internal const string File = "README.md";

    /// <summary>Its text.</summary>
    internal static byte[] Of(Catalogue words, string title, bool isExact, Licence? licence, IReadOnlyCollection<ArchivedSeason> seasons, IEnumerable<ArchiveTable> tables)
    {
        var text = new StringBuilder().Append("# ").Append(title).Append("\n\n");
        Paragraph(Says(words, isExact ? "archive.readme_exact" : "archive.readme_coarse"));
        Heading("archive.readme_done");
        Paragraph(Says(words, "archive.readme_done_what"), Says(words, "archive.readme_done_why"));
        List(seasons.Select(s => words.Say(Phrase.Of("archive.readme_season", ("season", s.Name), ("transects", s.Season.Transects.Count(t => t.SetOn is not null)), ("nests", s.Season.Nests.Count(n => n.IsSet)), ("checks", string.Join(", ", s.Season.Settings.CheckDays)), ("days", s.Season.Settings.TrialDays)))));
        Heading("archive.readme_rows");
        Table(tables);
        Heading("archive.readme_survival");
        Paragraph(Says(words, "archive.readme_survival_watch"));
        List([Says(words, "archive.readme_intact"), Says(words, "archive.readme_depredated"), Says(words, "archive.readme_other_loss"), Says(words, "archive.readme_not_relocated")]);
        Paragraph(Says(words, "archive.readme_share"), Says(words, "archive.readme_rules"));
        Heading("archive.readme_values");
        List([Says(words, "archive.readme_empty"), Says(words, "archive.readme_times"), Says(words, "archive.readme_columns"), Says(words, "archive.readme_numbers")]);
        Heading("archive.readme_not");
        List([Says(words, "archive.readme_not_birds"), Says(words, "archive.readme_not_real"), Says(words, "archive.readme_not_absence"), Says(words, "archive.readme_not_signs"), Says(words, "archive.readme_not_years"), Says(words, "archive.readme_not_alone")]);
        Heading("archive.readme_withheld");
        List(isExact ? [Says(words, "archive.readme_withheld_always"), Says(words, "archive.readme_withheld_people")]
            : [Says(words, "archive.readme_withheld_places"), Says(words, "archive.readme_withheld_names"), Says(words, "archive.readme_withheld_always"), Says(words, "archive.readme_withheld_people"), Says(words, "archive.readme_withheld_words")]);
        Heading("archive.readme_licence");
        Paragraph(licence is null ? Says(words, "archive.no_licence") : licence.Title + (licence.Address.Length > 0 && licence.Address != licence.Title ? ", <" + licence.Address + ">" : "."));
        Heading("archive.readme_standards");
        Paragraph(Says(words, "archive.readme_standards_which"), Says(words, "archive.readme_back"));
        return Encoding.UTF8.GetBytes(text.ToString().TrimEnd('\n') + "\n");

        void Heading(string key) => text.Append("## ").Append(Says(words, key)).Append("\n\n");

        void Paragraph(params string[] sentences) => text.Append(string.Join(' ', sentences)).Append("\n\n");

        void List(IEnumerable<string> lines)
        {
            foreach (var line in lines) text.Append("- ").Append(line).Append('\n');
            text.Append('\n');
        }

        void Table(IEnumerable<ArchiveTable> all)
        {
            text.Append("| ").Append(Says(words, "archive.readme_file")).Append(" | ").Append(Says(words, "archive.readme_row")).Append(" | ").Append(Says(words, "archive.readme_count")).Append(" |\n|---|---|--:|\n");
            foreach (var table in all) text.Append("| `").Append(table.Path).Append("` | ").Append(Says(words, "archive.row_" + table.Name)).Append(" | ").Append(Numbers.Whole(table.Rows.Count)).Append(" |\n");
            text.Append('\n');
        }
    }

    private static string Says(Catalogue words, string key) => words.Say(key);
}
