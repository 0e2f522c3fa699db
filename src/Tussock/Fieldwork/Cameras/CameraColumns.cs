namespace Tussock.Fieldwork.Cameras;

/// <summary>Columns that records from cameras have besides those of the season folder.</summary>
public static class CameraColumns
{
    /// <summary>Name of the records that a row came with.</summary>
    public const string Package = "package";

    /// <summary>Key of the camera in its records.</summary>
    public const string Deployment = "deployment";

    /// <summary>Key of the sighting in its records.</summary>
    public const string Observation = "observation";

    /// <summary>Local time at which an event ended.</summary>
    public const string Until = "until";

    /// <summary>Name of the animal as it was recorded.</summary>
    public const string Species = "species";

    /// <summary>How many animals, or people.</summary>
    public const string Count = "count";

    /// <summary>How many pictures show the event.</summary>
    public const string Pictures = "pictures";

    /// <summary>What the row was when it came, in short, so that what was changed here since is known.</summary>
    public const string Brought = "brought";
}
