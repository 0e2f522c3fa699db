using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Tussock.Store.Sqlite.Migrations
{
    /// <inheritdoc />
    public partial class Passkeys : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "passkey",
                columns: table => new
                {
                    id = table.Column<string>(type: "TEXT", nullable: false),
                    person = table.Column<string>(type: "TEXT", nullable: false),
                    name = table.Column<string>(type: "TEXT", nullable: false),
                    data = table.Column<string>(type: "TEXT", nullable: false),
                    added_at = table.Column<long>(type: "INTEGER", nullable: false),
                    used_at = table.Column<long>(type: "INTEGER", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_passkey", x => x.id);
                });

            migrationBuilder.CreateIndex(
                name: "IX_passkey_person",
                table: "passkey",
                column: "person");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "passkey");
        }
    }
}
