using Microsoft.AspNetCore.Http;
using Tussock.Desk;
using Tussock.Store;
using Tussock.Store.Media;

namespace Tussock.App.Serving.Desk;

/// <summary>The desks of all seasons: each keeps its own answer. What was not asked for the longest is let go when together they hold too much. May be shared between threads.</summary>
internal sealed class DeskSeasons
{
    /// <summary>Rows of records kept in memory, over all seasons: about 2 GB with their answers.</summary>
    private const int UsualRows = 400_000;

    private readonly ServedSeasons seasons;
    private readonly int mostRows;
    private readonly DeskShared shared;
    private readonly Lock gate = new();
    private readonly LinkedList<(Guid Season, DeskSite Site)> lately = [];

    internal DeskSeasons(ServedSeasons seasons, MediaStore media, int mostRows = UsualRows)
    {
        (this.seasons, this.mostRows) = (seasons, mostRows);
        shared = new DeskShared(seasons, media);
    }

    /// <summary>Seasons whose answer is in memory.</summary>
    internal int Kept
    {
        get
        {
            lock (gate) return lately.Count(s => s.Site.Rows > 0);
        }
    }

    /// <summary>What the desk knows of the season that a request is of.</summary>
    internal Task<DeskAnswer> KnownAsync(HttpContext context) => Of(SeasonShown.Of(context).Season).KnownAsync();

    /// <summary>Answers with a page of the season that a request is of.</summary>
    internal async Task AnswerAsync(HttpContext context)
    {
        await Of(SeasonShown.Of(context).Season).AnswerAsync(context);
        LetGo();
    }

    /// <summary>The desk of a season, from now on the one asked for last.</summary>
    private DeskSite Of(SeasonEntry season)
    {
        lock (gate)
        {
            for (var node = lately.First; node is not null; node = node.Next)
            {
                if (node.Value.Season != season.Id) continue;
                if (node != lately.First)
                {
                    lately.Remove(node);
                    lately.AddFirst(node);
                }

                return node.Value.Site;
            }

            return lately.AddFirst((season.Id, new DeskSite(seasons.Of(season), shared))).Value.Site;
        }
    }

    /// <summary>Lets go of what was not asked for the longest; the season asked for last stays, however large.</summary>
    private void LetGo()
    {
        lock (gate)
        {
            var rows = lately.First?.Value.Site.Rows ?? 0;
            for (var node = lately.First?.Next; node is not null; node = node.Next)
            {
                var more = node.Value.Site.Rows;
                if (rows + more > mostRows) node.Value.Site.LetGo();
                else rows += more;
            }
        }
    }
}
