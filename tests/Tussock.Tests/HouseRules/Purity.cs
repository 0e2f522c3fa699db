using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;
using Xunit;

namespace Tussock.Tests.HouseRules;

/// <summary>The core takes values and returns values.</summary>
public class Purity
{
    /// <summary>What the compiler is told to refuse; each line says what to do instead.</summary>
    private static readonly string[] Banned =
    [
        "N:System.IO", "N:System.Net", "T:System.Console", "T:System.Environment", "P:System.DateTime.Now", "P:System.DateTime.UtcNow", "P:System.DateTime.Today",
        "P:System.DateTimeOffset.Now", "P:System.DateTimeOffset.UtcNow", "T:System.TimeProvider", "T:System.Random", "M:System.Guid.NewGuid", "M:System.Guid.CreateVersion7", "P:System.Globalization.CultureInfo.CurrentCulture",
    ];

    /// <summary>In-memory streams and writers carry bytes that never leave the process.</summary>
    private static readonly string[] InMemory = ["MemoryStream", "StringWriter", "StringReader", "TextWriter", "TextReader", "Stream", "StreamReader", "SeekOrigin", "InvalidDataException"];

    [Fact]
    public void The_compiler_is_told_what_the_core_must_not_do()
    {
        var lines = Checkout.Read("src/Tussock/BannedSymbols.txt").Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        Checkout.None(Banned.Except(lines.Select(l => l.Split(';')[0])));
        Assert.All(lines, l => Assert.True(l.Split(';') is [_, { Length: > 10 }], l));
    }

    [Fact]
    public void Only_the_door_to_embedded_text_switches_the_ban_off()
    {
        var off = Checkout.Sources.Where(f => f.StartsWith("src/Tussock/", StringComparison.Ordinal) && Checkout.Read(f).Contains("RS0030", StringComparison.Ordinal));
        Assert.All(off, f => Assert.Equal("src/Tussock/Words/Embedded.cs", f));
    }

    [Fact]
    public void The_compiled_core_reaches_no_file_network_screen_or_machine()
    {
        using var file = new PEReader(File.OpenRead(typeof(Phrase).Assembly.Location));
        var metadata = file.GetMetadataReader();
        var reached = metadata.TypeReferences.Where(r => IsOutside(metadata, metadata.GetTypeReference(r)) && !OnlyAsksForItsThread(metadata, r)).Select(r => metadata.GetString(metadata.GetTypeReference(r).Name));
        Checkout.None(reached);
    }

    private static bool IsOutside(MetadataReader metadata, TypeReference type)
    {
        var (space, name) = (metadata.GetString(type.Namespace), metadata.GetString(type.Name));
        return space.StartsWith("System.Net", StringComparison.Ordinal) || space.StartsWith("Microsoft.Win32", StringComparison.Ordinal)
            || (space.StartsWith("System.IO", StringComparison.Ordinal) && !InMemory.Contains(name))
            || (space, name) is ("System", "Console" or "Environment" or "TimeProvider" or "Random") or ("System.Diagnostics", "Process" or "Stopwatch") or ("System.Threading", "Timer");
    }

    // The compiler asks an iterator's thread for its number; nothing else of the machine may be asked.
    private static bool OnlyAsksForItsThread(MetadataReader metadata, TypeReferenceHandle type) =>
        metadata.MemberReferences.Select(metadata.GetMemberReference).Where(m => m.Parent == (EntityHandle)type).All(m => metadata.GetString(m.Name) == "get_CurrentManagedThreadId")
        && metadata.GetString(metadata.GetTypeReference(type).Name) == "Environment";
}
