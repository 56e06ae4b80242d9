using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <inheritdoc />
    public partial class PumpMoves : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<bool>(
                name: "meter_replaced",
                table: "stroke_reading",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<string>(
                name: "note",
                table: "stroke_reading",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<int>(
                name: "read_by_id",
                table: "stroke_reading",
                type: "integer",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "pump_stay",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    pump_id = table.Column<int>(type: "integer", nullable: false),
                    position_id = table.Column<int>(type: "integer", nullable: false),
                    from = table.Column<DateOnly>(type: "date", nullable: true),
                    until = table.Column<DateOnly>(type: "date", nullable: true),
                    came = table.Column<string>(type: "text", nullable: true),
                    left = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_pump_stay", x => x.id);
                    table.CheckConstraint("until_not_before_from", "\"until\" is null or \"from\" is null or \"until\" >= \"from\"");
                    table.ForeignKey(
                        name: "fk_pump_stay_position_position_id",
                        column: x => x.position_id,
                        principalTable: "position",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pump_stay_pump_pump_id",
                        column: x => x.pump_id,
                        principalTable: "pump",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_stroke_reading_read_by_id",
                table: "stroke_reading",
                column: "read_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_pump_stay_position_id",
                table: "pump_stay",
                column: "position_id");

            migrationBuilder.CreateIndex(
                name: "ix_pump_stay_present_of_position",
                table: "pump_stay",
                column: "position_id",
                unique: true,
                filter: "\"until\" is null");

            migrationBuilder.CreateIndex(
                name: "ix_pump_stay_present_of_pump",
                table: "pump_stay",
                column: "pump_id",
                unique: true,
                filter: "\"until\" is null");

            migrationBuilder.CreateIndex(
                name: "ix_pump_stay_pump_id",
                table: "pump_stay",
                column: "pump_id");

            migrationBuilder.AddForeignKey(
                name: "fk_stroke_reading_person_read_by_id",
                table: "stroke_reading",
                column: "read_by_id",
                principalTable: "person",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "fk_stroke_reading_person_read_by_id",
                table: "stroke_reading");

            migrationBuilder.DropTable(
                name: "pump_stay");

            migrationBuilder.DropIndex(
                name: "ix_stroke_reading_read_by_id",
                table: "stroke_reading");

            migrationBuilder.DropColumn(
                name: "meter_replaced",
                table: "stroke_reading");

            migrationBuilder.DropColumn(
                name: "note",
                table: "stroke_reading");

            migrationBuilder.DropColumn(
                name: "read_by_id",
                table: "stroke_reading");
        }
    }
}
