using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <inheritdoc />
    public partial class StandIns : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "superseded_by_id",
                table: "part",
                type: "integer",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "replacement",
                columns: table => new
                {
                    line_id = table.Column<int>(type: "integer", nullable: false),
                    by_line_id = table.Column<int>(type: "integer", nullable: false),
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    origins = table.Column<string>(type: "jsonb", nullable: false),
                    reason = table.Column<string>(type: "character varying(500)", maxLength: 500, nullable: false),
                    made_by_id = table.Column<int>(type: "integer", nullable: false),
                    made_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_replacement", x => new { x.line_id, x.by_line_id });
                    table.CheckConstraint("another_line", "line_id <> by_line_id");
                    table.CheckConstraint("quantity_above_zero", "quantity > 0");
                    table.ForeignKey(
                        name: "fk_replacement_demand_line_by_line_id",
                        column: x => x.by_line_id,
                        principalTable: "demand_line",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_replacement_demand_line_line_id",
                        column: x => x.line_id,
                        principalTable: "demand_line",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_replacement_people_made_by_id",
                        column: x => x.made_by_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_replacement_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_part_superseded_by_id",
                table: "part",
                column: "superseded_by_id",
                filter: "superseded_by_id is not null");

            migrationBuilder.AddCheckConstraint(
                name: "superseded_by_another",
                table: "part",
                sql: "superseded_by_id <> id");

            migrationBuilder.CreateIndex(
                name: "ix_replacement_by_line_id",
                table: "replacement",
                column: "by_line_id");

            migrationBuilder.CreateIndex(
                name: "ix_replacement_made_by_id",
                table: "replacement",
                column: "made_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_replacement_order_id",
                table: "replacement",
                column: "order_id");

            migrationBuilder.AddForeignKey(
                name: "fk_part_part_superseded_by_id",
                table: "part",
                column: "superseded_by_id",
                principalTable: "part",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "fk_part_part_superseded_by_id",
                table: "part");

            migrationBuilder.DropTable(
                name: "replacement");

            migrationBuilder.DropIndex(
                name: "ix_part_superseded_by_id",
                table: "part");

            migrationBuilder.DropCheckConstraint(
                name: "superseded_by_another",
                table: "part");

            migrationBuilder.DropColumn(
                name: "superseded_by_id",
                table: "part");
        }
    }
}
