using Tussock.Store.Media;

namespace Tussock.App.Serving.Desk;

/// <summary>What belongs to the whole data file, whichever season a page is of.</summary>
internal sealed class DeskShared(ServedSeasons seasons, MediaStore media)
{
    internal MediaStore Media => media;

    internal DeskPhotos Photos { get; } = new(media);

    internal DeskBackup Backup { get; } = new(seasons.Usual, media);

    internal DeskOldSheets OldSheets { get; } = new(seasons.Usual);

    internal DeskYears Years { get; } = new(seasons);
}
