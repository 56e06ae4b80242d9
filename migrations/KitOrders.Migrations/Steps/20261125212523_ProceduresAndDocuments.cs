using System;
using System.Collections.Generic;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <summary>Documents and pictures, which only grow; drafts of procedures; and steps that are frozen once their revision is released.</summary>
    public partial class ProceduresAndDocuments : Migration
    {
        static readonly string[] appendOnly = ["document", "document_removal", "picture_file"];

        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "document_id",
                table: "procedure_step",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<List<string>>(
                name: "pictures",
                table: "procedure_step",
                type: "text[]",
                nullable: false,
                defaultValueSql: "'{}'");

            migrationBuilder.AddColumn<long>(
                name: "version",
                table: "procedure_revision",
                type: "bigint",
                nullable: false,
                defaultValue: 1L);

            migrationBuilder.AddColumn<int>(
                name: "document_id",
                table: "order_step",
                type: "integer",
                nullable: true);

            migrationBuilder.AddColumn<List<string>>(
                name: "pictures",
                table: "order_step",
                type: "text[]",
                nullable: false,
                defaultValueSql: "'{}'");

            migrationBuilder.CreateTable(
                name: "document",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    model_id = table.Column<int>(type: "integer", nullable: true),
                    pump_id = table.Column<int>(type: "integer", nullable: true),
                    kind = table.Column<string>(type: "text", nullable: false),
                    title = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    edition = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: true),
                    file_name = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    content_type = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    sha256 = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    content = table.Column<byte[]>(type: "bytea", nullable: false),
                    added_by_id = table.Column<int>(type: "integer", nullable: false),
                    added_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_document", x => x.id);
                    table.CheckConstraint("at_most_5_mb", "octet_length(content) between 1 and 5242880");
                    table.CheckConstraint("of_a_model_or_a_pump", "num_nonnulls(model_id, pump_id) = 1");
                    table.ForeignKey(
                        name: "fk_document_person_added_by_id",
                        column: x => x.added_by_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_document_pump_models_model_id",
                        column: x => x.model_id,
                        principalTable: "pump_model",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_document_pumps_pump_id",
                        column: x => x.pump_id,
                        principalTable: "pump",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "picture_file",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    sha256 = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    content_type = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    content = table.Column<byte[]>(type: "bytea", nullable: false),
                    added_by_id = table.Column<int>(type: "integer", nullable: false),
                    added_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_picture_file", x => x.id);
                    table.CheckConstraint("at_most_5_mb", "octet_length(content) between 1 and 5242880");
                    table.ForeignKey(
                        name: "fk_picture_file_person_added_by_id",
                        column: x => x.added_by_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "document_removal",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    document_id = table.Column<int>(type: "integer", nullable: false),
                    person_id = table.Column<int>(type: "integer", nullable: false),
                    at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_document_removal", x => x.id);
                    table.ForeignKey(
                        name: "fk_document_removal_document_document_id",
                        column: x => x.document_id,
                        principalTable: "document",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_document_removal_person_person_id",
                        column: x => x.person_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_procedure_step_document_id",
                table: "procedure_step",
                column: "document_id");

            migrationBuilder.CreateIndex(
                name: "ix_procedure_revision_draft",
                table: "procedure_revision",
                column: "procedure_id",
                unique: true,
                filter: "state = 'draft'");

            migrationBuilder.CreateIndex(
                name: "ix_order_step_document_id",
                table: "order_step",
                column: "document_id",
                filter: "document_id is not null");

            migrationBuilder.CreateIndex(
                name: "ix_document_added_by_id",
                table: "document",
                column: "added_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_document_model_id",
                table: "document",
                column: "model_id");

            migrationBuilder.CreateIndex(
                name: "ix_document_pump_id",
                table: "document",
                column: "pump_id");

            migrationBuilder.CreateIndex(
                name: "ix_document_removal_document_id",
                table: "document_removal",
                column: "document_id",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_document_removal_person_id",
                table: "document_removal",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "ix_picture_file_added_by_id",
                table: "picture_file",
                column: "added_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_picture_file_sha256",
                table: "picture_file",
                column: "sha256",
                unique: true);

            migrationBuilder.AddForeignKey(
                name: "fk_order_step_documents_document_id",
                table: "order_step",
                column: "document_id",
                principalTable: "document",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.AddForeignKey(
                name: "fk_procedure_step_documents_document_id",
                table: "procedure_step",
                column: "document_id",
                principalTable: "document",
                principalColumn: "id",
                onDelete: ReferentialAction.Restrict);

            migrationBuilder.Sql("""
                create function refuse_frozen() returns trigger language plpgsql as $$
                begin
                  if exists (select from procedure_revision where id = old.procedure_revision_id and state <> 'draft') then
                    raise exception 'a released revision is frozen: % of its steps is refused', lower(tg_op) using errcode = 'restrict_violation';
                  end if;
                  return case tg_op when 'DELETE' then old else new end;
                end $$;
                create trigger frozen_once_released before update or delete on procedure_step for each row execute function refuse_frozen();
                """);
            foreach (var table in appendOnly)
                migrationBuilder.Sql($"""
                    create trigger only_grows before update or delete on {table} for each row execute function refuse_change();
                    create trigger never_emptied before truncate on {table} for each statement execute function refuse_change();
                    """);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("""
                drop trigger frozen_once_released on procedure_step;
                drop function refuse_frozen();
                """);

            migrationBuilder.DropForeignKey(
                name: "fk_order_step_documents_document_id",
                table: "order_step");

            migrationBuilder.DropForeignKey(
                name: "fk_procedure_step_documents_document_id",
                table: "procedure_step");

            migrationBuilder.DropTable(
                name: "document_removal");

            migrationBuilder.DropTable(
                name: "picture_file");

            migrationBuilder.DropTable(
                name: "document");

            migrationBuilder.DropIndex(
                name: "ix_procedure_step_document_id",
                table: "procedure_step");

            migrationBuilder.DropIndex(
                name: "ix_procedure_revision_draft",
                table: "procedure_revision");

            migrationBuilder.DropIndex(
                name: "ix_order_step_document_id",
                table: "order_step");

            migrationBuilder.DropColumn(
                name: "document_id",
                table: "procedure_step");

            migrationBuilder.DropColumn(
                name: "pictures",
                table: "procedure_step");

            migrationBuilder.DropColumn(
                name: "version",
                table: "procedure_revision");

            migrationBuilder.DropColumn(
                name: "document_id",
                table: "order_step");

            migrationBuilder.DropColumn(
                name: "pictures",
                table: "order_step");
        }
    }
}
