using System.Text;

namespace Tussock.Reports;

/// <summary>Writes files so that nothing is ever half written: first under another name in the same folder, then renamed.</summary>
public static class ReportFiles
{
    /// <summary>Writes one file.</summary>
    /// <param name="folder">The folder; made when it is not there.</param>
    /// <param name="name">File name with its ending.</param>
    /// <param name="bytes">What it holds.</param>
    /// <returns>Its path.</returns>
    public static string Write(string folder, string name, ReadOnlySpan<byte> bytes)
    {
        Directory.CreateDirectory(folder);
        var path = Path.Combine(folder, name);
        var half = path + ".part";
        try
        {
            File.WriteAllBytes(half, bytes);
            File.Move(half, path, overwrite: true);
        }
        catch
        {
            File.Delete(half);
            throw;
        }

        return path;
    }

    /// <summary>Writes a page's HTML.</summary>
    public static string Write(string folder, ReportPage page) => Write(folder, page.Name + ".html", Encoding.UTF8.GetBytes(page.Html));
}
