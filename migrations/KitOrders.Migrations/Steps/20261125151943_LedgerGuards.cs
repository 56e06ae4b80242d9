using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <summary>
    /// What the mappings cannot say: a part never lacks its stock row, and the ledger, the step results and the audit trail
    /// only grow.
    /// </summary>
    public partial class LedgerGuards : Migration
    {
        static readonly string[] appendOnly = ["movement", "step_result", "audit"];

        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("""
                create function part_gets_stock_row() returns trigger language plpgsql as $$
                begin
                  insert into part_stock (part_id) values (new.id);
                  return new;
                end $$;
                create trigger part_gets_stock_row after insert on part for each row execute function part_gets_stock_row();
                create function refuse_change() returns trigger language plpgsql as $$
                begin
                  raise exception '% only grows: % is refused', tg_table_name, lower(tg_op) using errcode = 'restrict_violation';
                end $$;
                """);
            foreach (var table in appendOnly)
                migrationBuilder.Sql($"""
                    create trigger only_grows before update or delete on {table} for each row execute function refuse_change();
                    create trigger never_emptied before truncate on {table} for each statement execute function refuse_change();
                    """);
        }

        protected override void Down(MigrationBuilder migrationBuilder)
        {
            foreach (var table in appendOnly)
                migrationBuilder.Sql($"""
                    drop trigger only_grows on {table};
                    drop trigger never_emptied on {table};
                    """);
            migrationBuilder.Sql("""
                drop function refuse_change();
                drop trigger part_gets_stock_row on part;
                drop function part_gets_stock_row();
                """);
        }
    }
}
