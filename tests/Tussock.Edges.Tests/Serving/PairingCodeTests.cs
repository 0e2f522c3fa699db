using System.Net;
using Tussock.App.Serving;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>The code that lets one phone in, and those who guess at it.</summary>
public sealed class PairingCodeTests
{
    private static readonly IPAddress Stranger = IPAddress.Parse("192.168.1.66");
    private static readonly IPAddress Crew = IPAddress.Parse("192.168.1.20");

    [Fact]
    public void Whoever_guesses_five_times_is_shut_out_and_the_crew_is_not()
    {
        var code = new PairingCode(TimeProvider.System);
        var right = code.Next();
        for (var turn = 0; turn < 5; turn++) Assert.Equal(Pairing.Wrong, code.Try("x", Stranger));
        Assert.Equal(Pairing.Closed, code.Try(right, Stranger));
        Assert.Equal(Pairing.Right, code.Try(right, Crew));
    }

    [Fact]
    public void Many_addresses_together_have_fifty_guesses()
    {
        var code = new PairingCode(TimeProvider.System);
        var right = code.Next();
        for (var turn = 0; turn < 50; turn++) Assert.Equal(Pairing.Wrong, code.Try("x", new IPAddress([10, 0, 0, (byte)turn])));
        Assert.Equal(Pairing.Closed, code.Try(right, Crew));
        Assert.Equal(Pairing.Right, code.Try(code.Next(), Crew));
    }
}
