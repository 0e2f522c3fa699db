namespace Tussock.Browser.Tests.Field;

/// <summary>An invented season before anybody has walked.</summary>
internal static class PlannedSeason
{
    internal const string Package = """
        {"title":"Invented","season":{"name":"2026","year":2026,"species":"northern bobwhite","time_zone":"America/Chicago","trial_days":28,"check_days":[14,28],"cover_classes":[{"name":"bunchgrass","role":"grass"},{"name":"shrub","role":"other"}],"loss_rule":"any_egg"},
        "resources":[{"name":"pastures","path":"pastures.csv"},{"name":"transects","path":"transects.csv"},{"name":"nests","path":"nests.csv"},{"name":"visits","path":"visits.csv"},{"name":"remains","path":"remains.csv"},{"name":"belts","path":"belts.csv"},{"name":"crew","path":"crew.csv"}]}
        """;

    internal const string Pastures = "property,pasture\nInvented ranch,North\n";
    internal const string NestColumns = "transect,nest,cover,set_on,set_at,status,class_due,eggs,steps,direction,direction_sense,north,flag_lat,flag_lon,position_source,gps_accuracy_m,paced_by\n";
    internal const string VisitColumns = "transect,nest,visited_on,visited_at,finding,observer,eggs_refreshed,cause,search_minutes,not_found_because\n";
    internal const string RemainsColumns = "transect,nest,visited_on,sign,value,observer\n";
    internal const string BeltColumns = "transect,segment,steps,step_m,arm_span_m,cover,clumps,counted_on,observer,status\n";
    internal const string CrewColumns = "observer,course_m,steps,walked_on\n";

    internal static Dictionary<string, string> Files(string transects = "", string nests = "", string visits = "", string remains = "", string belts = "", string crew = "") => new(StringComparer.Ordinal)
    {
        ["datapackage.json"] = Package,
        ["pastures.csv"] = Pastures,
        ["transects.csv"] = "property,pasture,transect,set_on,observer,paced_by\n" + (transects.Length > 0 ? transects : "Invented ranch,North,T1,,,\nInvented ranch,North,T2,,,\n"),
        ["nests.csv"] = NestColumns + nests,
        ["visits.csv"] = VisitColumns + visits,
        ["remains.csv"] = RemainsColumns + remains,
        ["belts.csv"] = BeltColumns + belts,
        ["crew.csv"] = CrewColumns + crew,
    };
}
