using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <summary>
    /// Drafts of kit revisions are written by several people and released by one. What is released or superseded stays as it is;
    /// only a model may still be added to what it fits.
    /// </summary>
    public partial class KitDrafts : Migration
    {
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "released_by",
                table: "kit_revision",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<long>(
                name: "version",
                table: "kit_revision",
                type: "bigint",
                nullable: false,
                defaultValue: 1L);

            migrationBuilder.CreateIndex(
                name: "ix_kit_revision_released_by",
                table: "kit_revision",
                column: "released_by");

            migrationBuilder.AddForeignKey(
                name: "fk_kit_revision_people_released_by",
                table: "kit_revision",
                column: "released_by",
                principalTable: "person",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.Sql("""
                create function keep_released_revision() returns trigger language plpgsql as $$
                begin
                  if old.state = 'draft' then
                    return coalesce(new, old);
                  end if;
                  if tg_op = 'UPDATE' and new.part_id = old.part_id and new.number = old.number and new.buildable = old.buildable
                      and (new.state = old.state or (old.state = 'released' and new.state = 'superseded')) then
                    return new;
                  end if;
                  raise exception 'revision % is %: % is refused', old.number, old.state, lower(tg_op) using errcode = 'restrict_violation';
                end $$;
                create trigger keep_released before update or delete on kit_revision for each row execute function keep_released_revision();
                create function keep_released_row() returns trigger language plpgsql as $$
                begin
                  if exists (select from kit_revision r where r.id = old.kit_revision_id and r.state <> 'draft') then
                    raise exception 'a row of a released revision: % is refused', lower(tg_op) using errcode = 'restrict_violation';
                  end if;
                  return coalesce(new, old);
                end $$;
                create trigger keep_released before update or delete on kit_line for each row execute function keep_released_row();
                create trigger keep_released before update or delete on kit_fit for each row execute function keep_released_row();
                """);
        }

        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("""
                drop trigger keep_released on kit_fit;
                drop trigger keep_released on kit_line;
                drop trigger keep_released on kit_revision;
                drop function keep_released_row();
                drop function keep_released_revision();
                """);

            migrationBuilder.DropForeignKey(
                name: "fk_kit_revision_people_released_by",
                table: "kit_revision");

            migrationBuilder.DropIndex(
                name: "ix_kit_revision_released_by",
                table: "kit_revision");

            migrationBuilder.DropColumn(
                name: "released_by",
                table: "kit_revision");

            migrationBuilder.DropColumn(
                name: "version",
                table: "kit_revision");
        }
    }
}
