using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Tussock.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class Phones : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "phone",
                columns: table => new
                {
                    device = table.Column<string>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    key_hash = table.Column<byte[]>(type: "BLOB", nullable: false),
                    paired_at = table.Column<long>(type: "INTEGER", nullable: false),
                    shut_out_at = table.Column<long>(type: "INTEGER", nullable: true),
                    last_seen = table.Column<long>(type: "INTEGER", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_phone", x => x.device);
                });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "phone");
        }
    }
}
