using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <inheritdoc />
    public partial class Campaigns : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "fk_demand_line_work_orders_order_id",
                table: "demand_line");

            migrationBuilder.DropForeignKey(
                name: "fk_replacement_demand_line_by_line_id",
                table: "replacement");

            migrationBuilder.DropForeignKey(
                name: "fk_replacement_demand_line_line_id",
                table: "replacement");

            migrationBuilder.CreateSequence(
                name: "campaign_number",
                startValue: 101L);

            migrationBuilder.AddColumn<int>(
                name: "campaign_id",
                table: "work_order",
                type: "integer",
                nullable: true);

            migrationBuilder.AlterColumn<int>(
                name: "order_id",
                table: "reservation",
                type: "integer",
                nullable: true,
                oldClrType: typeof(int),
                oldType: "integer");

            migrationBuilder.AddColumn<int>(
                name: "campaign_id",
                table: "reservation",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "owner",
                table: "reservation",
                type: "character varying(8)",
                maxLength: 8,
                nullable: false,
                defaultValue: "order");

            migrationBuilder.AlterColumn<int>(
                name: "order_id",
                table: "demand_line",
                type: "integer",
                nullable: true,
                oldClrType: typeof(int),
                oldType: "integer");

            migrationBuilder.AddColumn<int>(
                name: "campaign_id",
                table: "demand_line",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "owner",
                table: "demand_line",
                type: "character varying(8)",
                maxLength: 8,
                nullable: false,
                defaultValue: "order");

            migrationBuilder.CreateTable(
                name: "campaign",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    number = table.Column<string>(type: "character varying(30)", maxLength: 30, nullable: false),
                    name = table.Column<string>(type: "character varying(80)", maxLength: 80, nullable: false),
                    job_id = table.Column<int>(type: "integer", nullable: false),
                    needed_by = table.Column<DateOnly>(type: "date", nullable: false),
                    made_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    made_by_id = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_campaign", x => x.id);
                    table.ForeignKey(
                        name: "fk_campaign_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "job",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_campaign_people_made_by_id",
                        column: x => x.made_by_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "order_spare_need",
                columns: table => new
                {
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    for_all = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    by_rate = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    rate = table.Column<decimal>(type: "numeric(18,12)", precision: 18, scale: 12, nullable: false),
                    alone = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_order_spare_need", x => new { x.order_id, x.part_id });
                    table.CheckConstraint("needs_something", "for_all >= 0 and by_rate >= 0 and for_all + by_rate > 0 and alone >= 0");
                    table.ForeignKey(
                        name: "fk_order_spare_need_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_order_spare_need_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "spare_use",
                columns: table => new
                {
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    reservation_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_spare_use", x => new { x.order_id, x.reservation_id });
                    table.CheckConstraint("use_not_negative", "quantity >= 0");
                    table.ForeignKey(
                        name: "fk_spare_use_pooled_reservations_reservation_id",
                        column: x => x.reservation_id,
                        principalTable: "reservation",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_spare_use_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_work_order_campaign_id",
                table: "work_order",
                column: "campaign_id",
                filter: "campaign_id is not null");

            migrationBuilder.CreateIndex(
                name: "ix_reservation_campaign_id",
                table: "reservation",
                column: "campaign_id",
                filter: "campaign_id is not null");

            migrationBuilder.AddCheckConstraint(
                name: "held_for_an_order_or_a_campaign",
                table: "reservation",
                sql: "(owner = 'order') = (order_id is not null) and (owner = 'campaign') = (campaign_id is not null)");

            migrationBuilder.CreateIndex(
                name: "ix_demand_line_campaign_id_part_id",
                table: "demand_line",
                columns: new[] { "campaign_id", "part_id" },
                unique: true,
                filter: "campaign_id is not null");

            migrationBuilder.AddCheckConstraint(
                name: "demand_of_an_order_or_a_campaign",
                table: "demand_line",
                sql: "(owner = 'order') = (order_id is not null) and (owner = 'campaign') = (campaign_id is not null)");

            migrationBuilder.CreateIndex(
                name: "ix_campaign_job_id",
                table: "campaign",
                column: "job_id");

            migrationBuilder.CreateIndex(
                name: "ix_campaign_made_by_id",
                table: "campaign",
                column: "made_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_campaign_number",
                table: "campaign",
                column: "number",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_order_spare_need_part_id",
                table: "order_spare_need",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_spare_use_reservation_id",
                table: "spare_use",
                column: "reservation_id");

            migrationBuilder.AddForeignKey(
                name: "fk_demand_line_campaign_campaign_id",
                table: "demand_line",
                column: "campaign_id",
                principalTable: "campaign",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "fk_demand_line_work_order_order_id",
                table: "demand_line",
                column: "order_id",
                principalTable: "work_order",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "fk_replacement_demand_lines_by_line_id",
                table: "replacement",
                column: "by_line_id",
                principalTable: "demand_line",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "fk_replacement_demand_lines_line_id",
                table: "replacement",
                column: "line_id",
                principalTable: "demand_line",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "fk_reservation_campaign_campaign_id",
                table: "reservation",
                column: "campaign_id",
                principalTable: "campaign",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "fk_work_order_campaign_campaign_id",
                table: "work_order",
                column: "campaign_id",
                principalTable: "campaign",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "fk_demand_line_campaign_campaign_id",
                table: "demand_line");

            migrationBuilder.DropForeignKey(
                name: "fk_demand_line_work_order_order_id",
                table: "demand_line");

            migrationBuilder.DropForeignKey(
                name: "fk_replacement_demand_lines_by_line_id",
                table: "replacement");

            migrationBuilder.DropForeignKey(
                name: "fk_replacement_demand_lines_line_id",
                table: "replacement");

            migrationBuilder.DropForeignKey(
                name: "fk_reservation_campaign_campaign_id",
                table: "reservation");

            migrationBuilder.DropForeignKey(
                name: "fk_work_order_campaign_campaign_id",
                table: "work_order");

            migrationBuilder.DropTable(
                name: "campaign");

            migrationBuilder.DropTable(
                name: "order_spare_need");

            migrationBuilder.DropTable(
                name: "spare_use");

            migrationBuilder.DropIndex(
                name: "ix_work_order_campaign_id",
                table: "work_order");

            migrationBuilder.DropIndex(
                name: "ix_reservation_campaign_id",
                table: "reservation");

            migrationBuilder.DropCheckConstraint(
                name: "held_for_an_order_or_a_campaign",
                table: "reservation");

            migrationBuilder.DropIndex(
                name: "ix_demand_line_campaign_id_part_id",
                table: "demand_line");

            migrationBuilder.DropCheckConstraint(
                name: "demand_of_an_order_or_a_campaign",
                table: "demand_line");

            migrationBuilder.DropColumn(
                name: "campaign_id",
                table: "work_order");

            migrationBuilder.DropColumn(
                name: "campaign_id",
                table: "reservation");

            migrationBuilder.DropColumn(
                name: "owner",
                table: "reservation");

            migrationBuilder.DropColumn(
                name: "campaign_id",
                table: "demand_line");

            migrationBuilder.DropColumn(
                name: "owner",
                table: "demand_line");

            migrationBuilder.DropSequence(
                name: "campaign_number");

            migrationBuilder.AlterColumn<int>(
                name: "order_id",
                table: "reservation",
                type: "integer",
                nullable: false,
                defaultValue: 0,
                oldClrType: typeof(int),
                oldType: "integer",
                oldNullable: true);

            migrationBuilder.AlterColumn<int>(
                name: "order_id",
                table: "demand_line",
                type: "integer",
                nullable: false,
                defaultValue: 0,
                oldClrType: typeof(int),
                oldType: "integer",
                oldNullable: true);

            migrationBuilder.AddForeignKey(
                name: "fk_demand_line_work_orders_order_id",
                table: "demand_line",
                column: "order_id",
                principalTable: "work_order",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "fk_replacement_demand_line_by_line_id",
                table: "replacement",
                column: "by_line_id",
                principalTable: "demand_line",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "fk_replacement_demand_line_line_id",
                table: "replacement",
                column: "line_id",
                principalTable: "demand_line",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);
        }
    }
}
