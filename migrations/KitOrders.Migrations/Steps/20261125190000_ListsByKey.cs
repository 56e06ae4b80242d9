using KitOrders.Storage;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <summary>
    /// What the lists of orders sort by stands in the order's own row, so that a page is read from an index by its key; words
    /// are found by their letters where the server has the extension for it. The program maps none of this: it is the lists' own.
    /// </summary>
    [DbContext(typeof(KitOrdersDb))]
    [Migration("20261125190000_ListsByKey")]
    public partial class ListsByKey : Migration
    {
        const string Living = "state in ('draft', 'open', 'staged', 'underway', 'finished')";

        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql($"""
                alter table work_order add score int not null default 0, add fit_on date generated always as (coalesce(planned_fit_on, needed_by)) stored;
                update work_order o set score = o.work_class * p.criticality from position p where p.id = o.position_id;
                create function order_gets_score() returns trigger language plpgsql as $$
                begin
                  new.score := new.work_class * (select criticality from position where id = new.position_id);
                  return new;
                end $$;
                create trigger order_gets_score before insert or update of work_class, position_id on work_order for each row execute function order_gets_score();
                create function position_moves_scores() returns trigger language plpgsql as $$
                begin
                  update work_order set score = work_class * new.criticality where position_id = new.id;
                  return null;
                end $$;
                create trigger position_moves_scores after update of criticality on position for each row
                  when (old.criticality is distinct from new.criticality) execute function position_moves_scores();
                create index ix_work_order_by_score on work_order ((-score), fit_on, id) where {Living};
                create index ix_work_order_by_fit on work_order (fit_on, (-score), id) where {Living};
                create index ix_demand_line_short_order on demand_line (order_id) where short > 0;
                """);
            // A server without it, or a role that may not add it, finds words by reading all of them, and misspelt ones not at all.
            migrationBuilder.Sql("""
                create function similar_parts(words text, most int) returns setof int language sql stable as 'select null::int where false';
                do $do$
                begin
                  if exists (select from pg_available_extensions where name = 'pg_trgm') then
                    create extension if not exists pg_trgm;
                    create index ix_part_words on part using gin ((number || ' ' || description) gin_trgm_ops);
                    create index ix_work_order_number_words on work_order using gin (number gin_trgm_ops);
                    create index ix_position_words on position using gin ((tag || ' ' || coalesce(area, '')) gin_trgm_ops);
                    create index ix_pump_words on pump using gin (serial gin_trgm_ops);
                    create index ix_bin_words on bin using gin (code gin_trgm_ops);
                    create or replace function similar_parts(words text, most int) returns setof int language sql stable
                    set pg_trgm.word_similarity_threshold = 0.4 as $find$
                      select id from part where words <% (number || ' ' || description) order by words <<-> (number || ' ' || description), number limit most
                    $find$;
                  end if;
                exception when insufficient_privilege then
                  raise notice 'pg_trgm is not there: searches read all parts and orders, and misspelt words find nothing.';
                end $do$;
                """);
        }

        protected override void Down(MigrationBuilder migrationBuilder) => migrationBuilder.Sql("""
            drop function similar_parts(text, int);
            drop index if exists ix_part_words, ix_work_order_number_words, ix_position_words, ix_pump_words, ix_bin_words;
            drop index ix_demand_line_short_order, ix_work_order_by_fit, ix_work_order_by_score;
            drop trigger position_moves_scores on position;
            drop trigger order_gets_score on work_order;
            drop function position_moves_scores();
            drop function order_gets_score();
            alter table work_order drop column fit_on, drop column score;
            """);
    }
}
