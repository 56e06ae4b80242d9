using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <summary>The checks of an order are written and read as one; the answers people give stay rows of their own.</summary>
    public partial class ChecksAsOneList : Migration
    {
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_order_step_part_id",
                table: "order_step");

            migrationBuilder.CreateTable(
                name: "order_judgement",
                columns: table => new
                {
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    checks = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_order_judgement", x => x.order_id);
                    table.ForeignKey(
                        name: "fk_order_judgement_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_order_step_part_id",
                table: "order_step",
                column: "part_id",
                filter: "part_id is not null");

            migrationBuilder.Sql("""
                insert into order_judgement (order_id, checks)
                select order_id, jsonb_agg(coalesce(numbers, '{"numbers": {}, "onCondition": false, "answerable": false}')
                    || jsonb_build_object('check', "check", 'kit', kit, 'result', result, 'reason', reason))::text
                from order_check where result is not null group by order_id;
                delete from order_check where answer is null;
                alter table order_check drop numbers, drop reason, drop result;
                """);
        }

        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_order_step_part_id",
                table: "order_step");

            migrationBuilder.Sql("""
                alter table order_check add numbers jsonb, add reason text, add result text;
                insert into order_check (order_id, kit, "check", result, reason, numbers)
                select j.order_id, c ->> 'kit', c ->> 'check', c ->> 'result', c ->> 'reason', c - 'kit' - 'check' - 'result' - 'reason'
                from order_judgement j, jsonb_array_elements(j.checks::jsonb) c
                on conflict (order_id, kit, "check") do update set result = excluded.result, reason = excluded.reason, numbers = excluded.numbers;
                drop table order_judgement;
                """);

            migrationBuilder.CreateIndex(
                name: "ix_order_step_part_id",
                table: "order_step",
                column: "part_id");
        }
    }
}
