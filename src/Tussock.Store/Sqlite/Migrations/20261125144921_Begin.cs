using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Tussock.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class Begin : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "belts",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_belts", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "cameras",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_cameras", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "chance",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_chance", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "change",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    batch = table.Column<byte[]>(type: "BLOB", nullable: false),
                    device = table.Column<string>(type: "TEXT", nullable: false),
                    device_seq = table.Column<long>(type: "INTEGER", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    record = table.Column<byte[]>(type: "BLOB", nullable: false),
                    op = table.Column<int>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false),
                    by = table.Column<string>(type: "TEXT", nullable: false),
                    said_at = table.Column<long>(type: "INTEGER", nullable: false),
                    offset = table.Column<int>(type: "INTEGER", nullable: false),
                    came_at = table.Column<long>(type: "INTEGER", nullable: false),
                    source = table.Column<string>(type: "TEXT", nullable: false),
                    position = table.Column<long>(type: "INTEGER", nullable: false),
                    format = table.Column<int>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_change", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "crew",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_crew", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "deployments",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_deployments", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "events",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_events", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "field_head",
                columns: table => new
                {
                    record = table.Column<byte[]>(type: "BLOB", nullable: false),
                    field = table.Column<string>(type: "TEXT", nullable: false),
                    change = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    value = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_field_head", x => new { x.record, x.field, x.change });
                });

            migrationBuilder.CreateTable(
                name: "file_device",
                columns: table => new
                {
                    id = table.Column<int>(type: "INTEGER", nullable: false),
                    device = table.Column<string>(type: "TEXT", nullable: false),
                    made_at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_file_device", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "folder_season",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_folder_season", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "folder_table",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_folder_table", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "folder_text",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_folder_text", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "import_fields",
                columns: table => new
                {
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    kind = table.Column<string>(type: "TEXT", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_import_fields", x => new { x.season, x.kind });
                });

            migrationBuilder.CreateTable(
                name: "import_row",
                columns: table => new
                {
                    record = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    digest = table.Column<byte[]>(type: "BLOB", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_import_row", x => x.record);
                });

            migrationBuilder.CreateTable(
                name: "media",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_media", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "nests",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_nests", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "pastures",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_pastures", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "plants",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_plants", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "remains",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_remains", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "transects",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_transects", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "visits",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "BLOB", nullable: false),
                    season = table.Column<byte[]>(type: "BLOB", nullable: false),
                    key = table.Column<string>(type: "TEXT", nullable: false),
                    is_void = table.Column<bool>(type: "INTEGER", nullable: false),
                    fields = table.Column<string>(type: "TEXT", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_visits", x => x.id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_belts_season_key",
                table: "belts",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_cameras_season_key",
                table: "cameras",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_chance_season_key",
                table: "chance",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_change_device_device_seq",
                table: "change",
                columns: new[] { "device", "device_seq" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_change_position",
                table: "change",
                column: "position",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_change_record",
                table: "change",
                column: "record");

            migrationBuilder.CreateIndex(
                name: "IX_crew_season_key",
                table: "crew",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_deployments_season_key",
                table: "deployments",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_events_season_key",
                table: "events",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_folder_season_season_key",
                table: "folder_season",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_folder_table_season_key",
                table: "folder_table",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_folder_text_season_key",
                table: "folder_text",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_import_row_season",
                table: "import_row",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_media_season_key",
                table: "media",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_nests_season_key",
                table: "nests",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_pastures_season_key",
                table: "pastures",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_plants_season_key",
                table: "plants",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_remains_season_key",
                table: "remains",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_transects_season_key",
                table: "transects",
                columns: new[] { "season", "key" });

            migrationBuilder.CreateIndex(
                name: "IX_visits_season_key",
                table: "visits",
                columns: new[] { "season", "key" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "belts");

            migrationBuilder.DropTable(
                name: "cameras");

            migrationBuilder.DropTable(
                name: "chance");

            migrationBuilder.DropTable(
                name: "change");

            migrationBuilder.DropTable(
                name: "crew");

            migrationBuilder.DropTable(
                name: "deployments");

            migrationBuilder.DropTable(
                name: "events");

            migrationBuilder.DropTable(
                name: "field_head");

            migrationBuilder.DropTable(
                name: "file_device");

            migrationBuilder.DropTable(
                name: "folder_season");

            migrationBuilder.DropTable(
                name: "folder_table");

            migrationBuilder.DropTable(
                name: "folder_text");

            migrationBuilder.DropTable(
                name: "import_fields");

            migrationBuilder.DropTable(
                name: "import_row");

            migrationBuilder.DropTable(
                name: "media");

            migrationBuilder.DropTable(
                name: "nests");

            migrationBuilder.DropTable(
                name: "pastures");

            migrationBuilder.DropTable(
                name: "plants");

            migrationBuilder.DropTable(
                name: "remains");

            migrationBuilder.DropTable(
                name: "transects");

            migrationBuilder.DropTable(
                name: "visits");
        }
    }
}
