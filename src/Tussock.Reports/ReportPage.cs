namespace Tussock.Reports;

/// <summary>One file of a report, ready to be written or printed.</summary>
/// <param name="Name">File name without ending, for example <c>landowner-two-windmills</c>.</param>
/// <param name="Html">The whole HTML file.</param>
/// <param name="Footer">What the foot of each printed page says beside its number.</param>
public sealed record ReportPage(string Name, string Html, string Footer);

/// <summary>What a report says about its own making.</summary>
/// <param name="Version">Version of the program.</param>
/// <param name="Seed">Seed of everything drawn.</param>
/// <param name="On">Date of the report.</param>
/// <param name="JournalPosition">Last change of the data file that it rests on; null for a season folder.</param>
public sealed record ReportMaking(string Version, ulong Seed, DateOnly On, long? JournalPosition);
