using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Tussock.Store.Postgres.Migrations
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
                    id = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    person = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    name = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    data = table.Column<string>(type: "text", nullable: false, collation: "C"),
                    added_at = table.Column<long>(type: "bigint", nullable: false),
                    used_at = table.Column<long>(type: "bigint", nullable: false)
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
