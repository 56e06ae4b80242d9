using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <inheritdoc />
    public partial class CountsAndInspections : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<DateOnly>(
                name: "inspected_on",
                table: "lot",
                type: "date",
                nullable: true);

            migrationBuilder.CreateTable(
                name: "bin_count",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    lot_id = table.Column<int>(type: "integer", nullable: false),
                    bin_id = table.Column<int>(type: "integer", nullable: false),
                    book = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    counted = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    person_id = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_bin_count", x => x.id);
                    table.CheckConstraint("counts_not_negative", "book >= 0 and counted >= 0");
                    table.ForeignKey(
                        name: "fk_bin_count_bins_bin_id",
                        column: x => x.bin_id,
                        principalTable: "bin",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_bin_count_lots_lot_id",
                        column: x => x.lot_id,
                        principalTable: "lot",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_bin_count_part_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_bin_count_person_person_id",
                        column: x => x.person_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_bin_count_at",
                table: "bin_count",
                column: "at");

            migrationBuilder.CreateIndex(
                name: "ix_bin_count_bin_id",
                table: "bin_count",
                column: "bin_id");

            migrationBuilder.CreateIndex(
                name: "ix_bin_count_lot_id",
                table: "bin_count",
                column: "lot_id");

            migrationBuilder.CreateIndex(
                name: "ix_bin_count_part_id",
                table: "bin_count",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_bin_count_person_id",
                table: "bin_count",
                column: "person_id");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "bin_count");

            migrationBuilder.DropColumn(
                name: "inspected_on",
                table: "lot");
        }
    }
}
