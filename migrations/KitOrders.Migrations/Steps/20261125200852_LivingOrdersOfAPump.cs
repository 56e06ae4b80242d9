using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <summary>Opening an order asks what else is under way on its pump.</summary>
    public partial class LivingOrdersOfAPump : Migration
    {
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateIndex(
                name: "ix_work_order_pump_living",
                table: "work_order",
                column: "pump_id",
                filter: "state in ('open', 'staged', 'underway', 'finished')");
        }

        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropIndex(
                name: "ix_work_order_pump_living",
                table: "work_order");
        }
    }
}
