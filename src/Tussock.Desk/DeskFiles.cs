using System.Reflection;

namespace Tussock.Desk;

/// <summary>The desk's own files, carried inside the program: style and small modules.</summary>
public static class DeskFiles
{
    private const string Prefix = "desk/";

    /// <summary>The file of this name with its media type; null when there is none.</summary>
    public static (byte[] Bytes, string Type)? Find(string name)
    {
        var type = Path.GetExtension(name) switch { ".css" => "text/css; charset=utf-8", ".js" => "text/javascript; charset=utf-8", _ => null };
        if (type is null || Assembly.GetExecutingAssembly().GetManifestResourceStream(Prefix + name) is not { } stream) return null;
        using (stream)
        {
            var bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
            return (bytes, type);
        }
    }
}
