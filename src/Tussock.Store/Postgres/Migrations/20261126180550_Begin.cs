using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace Tussock.Store.Postgres.Migrations
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
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_belts", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "cameras",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_cameras", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "chance",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_chance", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "change",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    batch = table.Column<byte[]>(type: "bytea", nullable: false),
                    device = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    device_seq = table.Column<long>(type: "bigint", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    kind = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    record = table.Column<byte[]>(type: "bytea", nullable: false),
                    op = table.Column<int>(type: "integer", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    by = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    said_at = table.Column<long>(type: "bigint", nullable: false),
                    offset = table.Column<int>(type: "integer", nullable: false),
                    came_at = table.Column<long>(type: "bigint", nullable: false),
                    source = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    position = table.Column<long>(type: "bigint", nullable: false),
                    format = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_change", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "crew",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_crew", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "deployments",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_deployments", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "events",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_events", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "field_head",
                columns: table => new
                {
                    record = table.Column<byte[]>(type: "bytea", nullable: false),
                    field = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    change = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    kind = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    value = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_field_head", x => new { x.record, x.field, x.change });
                });

            migrationBuilder.CreateTable(
                name: "file_device",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false),
                    device = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    made_at = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_file_device", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "folder_season",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_folder_season", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "folder_table",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_folder_table", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "folder_text",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_folder_text", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "import_fields",
                columns: table => new
                {
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    kind = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_import_fields", x => new { x.season, x.kind });
                });

            migrationBuilder.CreateTable(
                name: "import_row",
                columns: table => new
                {
                    record = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    digest = table.Column<byte[]>(type: "bytea", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_import_row", x => x.record);
                });

            migrationBuilder.CreateTable(
                name: "media",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_media", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "nests",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_nests", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "pastures",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_pastures", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "person",
                columns: table => new
                {
                    id = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    name_key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    role = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    properties = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    password_hash = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    stamp = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    added_at = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_person", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "phone",
                columns: table => new
                {
                    device = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    key_hash = table.Column<byte[]>(type: "bytea", nullable: false),
                    paired_at = table.Column<long>(type: "bigint", nullable: false),
                    shut_out_at = table.Column<long>(type: "bigint", nullable: true),
                    last_seen = table.Column<long>(type: "bigint", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_phone", x => x.device);
                });

            migrationBuilder.CreateTable(
                name: "plants",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_plants", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "remains",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_remains", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "transects",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_transects", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "visits",
                columns: table => new
                {
                    id = table.Column<byte[]>(type: "bytea", nullable: false),
                    season = table.Column<byte[]>(type: "bytea", nullable: false),
                    key = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    is_void = table.Column<bool>(type: "boolean", nullable: false),
                    fields = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_visits", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "witnessed",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    at = table.Column<long>(type: "bigint", nullable: false),
                    what = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    by = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    whom = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    detail = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    address = table.Column<string>(type: "text", nullable: false, collation: "C")
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_witnessed", x => x.id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_belts_season",
                table: "belts",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_cameras_season",
                table: "cameras",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_chance_season",
                table: "chance",
                column: "season");

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
                name: "IX_crew_season",
                table: "crew",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_deployments_season",
                table: "deployments",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_events_season",
                table: "events",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_folder_season_season",
                table: "folder_season",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_folder_table_season",
                table: "folder_table",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_folder_text_season",
                table: "folder_text",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_import_row_season",
                table: "import_row",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_media_season",
                table: "media",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_nests_season",
                table: "nests",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_pastures_season",
                table: "pastures",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_person_name_key",
                table: "person",
                column: "name_key",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "IX_plants_season",
                table: "plants",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_remains_season",
                table: "remains",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_transects_season",
                table: "transects",
                column: "season");

            migrationBuilder.CreateIndex(
                name: "IX_visits_season",
                table: "visits",
                column: "season");
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
                name: "person");

            migrationBuilder.DropTable(
                name: "phone");

            migrationBuilder.DropTable(
                name: "plants");

            migrationBuilder.DropTable(
                name: "remains");

            migrationBuilder.DropTable(
                name: "transects");

            migrationBuilder.DropTable(
                name: "visits");

            migrationBuilder.DropTable(
                name: "witnessed");
        }
    }
}
