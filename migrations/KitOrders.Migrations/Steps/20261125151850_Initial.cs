using System;
using System.Collections.Generic;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace KitOrders.Migrations.Steps
{
    /// <inheritdoc />
    public partial class Initial : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateSequence(
                name: "order_number",
                startValue: 10001L);

            migrationBuilder.CreateTable(
                name: "bin",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    code = table.Column<string>(type: "text", nullable: false),
                    walk_order = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_bin", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "crew",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    name = table.Column<string>(type: "text", nullable: false),
                    people = table.Column<int>(type: "integer", nullable: true),
                    hours_per_week = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    hourly_rate = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_crew", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "fluid",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    name = table.Column<string>(type: "text", nullable: false),
                    hazard = table.Column<string>(type: "text", nullable: true),
                    approved = table.Column<List<string>>(type: "text[]", nullable: false),
                    refused = table.Column<List<string>>(type: "text[]", nullable: false),
                    ignition_c = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    bonding = table.Column<bool>(type: "boolean", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_fluid", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "part",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    number = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    description = table.Column<string>(type: "character varying(300)", maxLength: 300, nullable: false),
                    unit = table.Column<string>(type: "text", nullable: false),
                    elastomers = table.Column<string>(type: "text", nullable: true),
                    unit_cost = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    lead_time_days = table.Column<int>(type: "integer", nullable: true),
                    barcode = table.Column<string>(type: "text", nullable: true),
                    thread = table.Column<string>(type: "text", nullable: true),
                    handed_out_in = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    supplier = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_part", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "person",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    name = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    roles = table.Column<string>(type: "text", nullable: false),
                    crew = table.Column<string>(type: "text", nullable: true),
                    active = table.Column<bool>(type: "boolean", nullable: false),
                    pin_hash = table.Column<string>(type: "text", nullable: true),
                    demo = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_person", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "plant_setting",
                columns: table => new
                {
                    key = table.Column<string>(type: "text", nullable: false),
                    value = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_plant_setting", x => x.key);
                });

            migrationBuilder.CreateTable(
                name: "procedure",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    code = table.Column<string>(type: "text", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_procedure", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "pump_model",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    code = table.Column<string>(type: "text", nullable: false),
                    description = table.Column<string>(type: "text", nullable: true),
                    control = table.Column<string>(type: "text", nullable: false),
                    sensing_rod_available = table.Column<bool>(type: "boolean", nullable: true),
                    displacement_ml = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    ports = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_pump_model", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "tool",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    code = table.Column<string>(type: "text", nullable: false),
                    description = table.Column<string>(type: "text", nullable: true),
                    low = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    high = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    unit = table.Column<string>(type: "text", nullable: true),
                    calibrated_on = table.Column<DateOnly>(type: "date", nullable: true),
                    due_on = table.Column<DateOnly>(type: "date", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_tool", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "position",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    tag = table.Column<string>(type: "text", nullable: false),
                    area = table.Column<string>(type: "text", nullable: true),
                    zone = table.Column<string>(type: "text", nullable: true),
                    ex_group = table.Column<string>(type: "text", nullable: true),
                    temperature_class = table.Column<string>(type: "text", nullable: true),
                    supply_kind = table.Column<string>(type: "text", nullable: true),
                    supply_volts = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    cable_m = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    cable_mm2 = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    fluid_id = table.Column<int>(type: "integer", nullable: true),
                    fluid_temp_c = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    criticality = table.Column<int>(type: "integer", nullable: false),
                    version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_position", x => x.id);
                    table.CheckConstraint("criticality_1_to_10", "criticality between 1 and 10");
                    table.ForeignKey(
                        name: "fk_position_fluid_fluid_id",
                        column: x => x.fluid_id,
                        principalTable: "fluid",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "incoming",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    reference = table.Column<string>(type: "text", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    received = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    promised_on = table.Column<DateOnly>(type: "date", nullable: true),
                    supplier = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_incoming", x => x.id);
                    table.CheckConstraint("quantities_not_negative", "quantity >= 0 and received >= 0");
                    table.ForeignKey(
                        name: "fk_incoming_part_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "kit_revision",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    state = table.Column<string>(type: "text", nullable: false),
                    released_on = table.Column<DateOnly>(type: "date", nullable: true),
                    buildable = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_kit_revision", x => x.id);
                    table.ForeignKey(
                        name: "fk_kit_revision_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "lot",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    number = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    received_on = table.Column<DateOnly>(type: "date", nullable: false),
                    cured_on = table.Column<DateOnly>(type: "date", nullable: true),
                    expires_on = table.Column<DateOnly>(type: "date", nullable: false),
                    quarantine = table.Column<string>(type: "text", nullable: true),
                    unit_cost = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_lot", x => x.id);
                    table.ForeignKey(
                        name: "fk_lot_part_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "part_alternate",
                columns: table => new
                {
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    alternate_id = table.Column<int>(type: "integer", nullable: false),
                    preference = table.Column<int>(type: "integer", nullable: false),
                    both_ways = table.Column<bool>(type: "boolean", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_part_alternate", x => new { x.part_id, x.alternate_id });
                    table.CheckConstraint("another_part", "part_id <> alternate_id");
                    table.ForeignKey(
                        name: "fk_part_alternate_parts_alternate_id",
                        column: x => x.alternate_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_part_alternate_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "part_stock",
                columns: table => new
                {
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    average_cost = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_part_stock", x => x.part_id);
                    table.ForeignKey(
                        name: "fk_part_stock_part_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "account",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    person_id = table.Column<int>(type: "integer", nullable: false),
                    user_name = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    normalized_user_name = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    email = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    normalized_email = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    email_confirmed = table.Column<bool>(type: "boolean", nullable: false),
                    password_hash = table.Column<string>(type: "text", nullable: true),
                    security_stamp = table.Column<string>(type: "text", nullable: true),
                    concurrency_stamp = table.Column<string>(type: "text", nullable: true),
                    phone_number = table.Column<string>(type: "text", nullable: true),
                    phone_number_confirmed = table.Column<bool>(type: "boolean", nullable: false),
                    two_factor_enabled = table.Column<bool>(type: "boolean", nullable: false),
                    lockout_end = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    lockout_enabled = table.Column<bool>(type: "boolean", nullable: false),
                    access_failed_count = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_account", x => x.id);
                    table.ForeignKey(
                        name: "fk_account_people_person_id",
                        column: x => x.person_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "api_token",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    person_id = table.Column<int>(type: "integer", nullable: false),
                    label = table.Column<string>(type: "text", nullable: false),
                    hash = table.Column<string>(type: "text", nullable: false),
                    made_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    revoked_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_api_token", x => x.id);
                    table.ForeignKey(
                        name: "fk_api_token_people_person_id",
                        column: x => x.person_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "command",
                columns: table => new
                {
                    person_id = table.Column<int>(type: "integer", nullable: false),
                    key = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    operation = table.Column<string>(type: "text", nullable: false),
                    body_hash = table.Column<string>(type: "text", nullable: false),
                    at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    answer = table.Column<string>(type: "text", nullable: true),
                    reply = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_command", x => new { x.person_id, x.key });
                    table.ForeignKey(
                        name: "fk_command_people_person_id",
                        column: x => x.person_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "job",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    code = table.Column<string>(type: "text", nullable: false),
                    description = table.Column<string>(type: "text", nullable: false),
                    procedure_id = table.Column<int>(type: "integer", nullable: false),
                    crew = table.Column<string>(type: "text", nullable: true),
                    hours = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job", x => x.id);
                    table.ForeignKey(
                        name: "fk_job_procedures_procedure_id",
                        column: x => x.procedure_id,
                        principalTable: "procedure",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "procedure_revision",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    procedure_id = table.Column<int>(type: "integer", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    state = table.Column<string>(type: "text", nullable: false),
                    released_on = table.Column<DateOnly>(type: "date", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_procedure_revision", x => x.id);
                    table.ForeignKey(
                        name: "fk_procedure_revision_procedure_procedure_id",
                        column: x => x.procedure_id,
                        principalTable: "procedure",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "pump",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    serial = table.Column<string>(type: "text", nullable: false),
                    model_id = table.Column<int>(type: "integer", nullable: false),
                    position_id = table.Column<int>(type: "integer", nullable: true),
                    sensing_rod = table.Column<bool>(type: "boolean", nullable: true),
                    strokes_per_pulse = table.Column<int>(type: "integer", nullable: true),
                    commissioned_on = table.Column<DateOnly>(type: "date", nullable: true),
                    stroke_count = table.Column<long>(type: "bigint", nullable: true),
                    out_of_service = table.Column<string>(type: "text", nullable: true),
                    version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_pump", x => x.id);
                    table.ForeignKey(
                        name: "fk_pump_position_position_id",
                        column: x => x.position_id,
                        principalTable: "position",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pump_pump_models_model_id",
                        column: x => x.model_id,
                        principalTable: "pump_model",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "kit_fit",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    kit_revision_id = table.Column<int>(type: "integer", nullable: false),
                    model_id = table.Column<int>(type: "integer", nullable: false),
                    converts_to_id = table.Column<int>(type: "integer", nullable: true),
                    needs_sensing_rod = table.Column<bool>(type: "boolean", nullable: false),
                    ports = table.Column<string>(type: "text", nullable: true),
                    supply_kind = table.Column<string>(type: "text", nullable: true),
                    volts = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    volts_tolerance_pct = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    amps = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    ex_marking = table.Column<string>(type: "text", nullable: true),
                    materials = table.Column<List<string>>(type: "text[]", nullable: false),
                    once = table.Column<bool>(type: "boolean", nullable: false),
                    requires_kits = table.Column<List<string>>(type: "text[]", nullable: false),
                    excludes_kits = table.Column<List<string>>(type: "text[]", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_kit_fit", x => x.id);
                    table.ForeignKey(
                        name: "fk_kit_fit_kit_revisions_kit_revision_id",
                        column: x => x.kit_revision_id,
                        principalTable: "kit_revision",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "fk_kit_fit_pump_models_converts_to_id",
                        column: x => x.converts_to_id,
                        principalTable: "pump_model",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_kit_fit_pump_models_model_id",
                        column: x => x.model_id,
                        principalTable: "pump_model",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "kit_line",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    kit_revision_id = table.Column<int>(type: "integer", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    source = table.Column<string>(type: "text", nullable: false),
                    spare_policy = table.Column<string>(type: "text", nullable: false),
                    reject_rate = table.Column<decimal>(type: "numeric(9,6)", precision: 9, scale: 6, nullable: true),
                    wraps = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    wraps_for = table.Column<List<int>>(type: "integer[]", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_kit_line", x => x.id);
                    table.CheckConstraint("quantity_above_zero", "quantity > 0");
                    table.ForeignKey(
                        name: "fk_kit_line_kit_revisions_kit_revision_id",
                        column: x => x.kit_revision_id,
                        principalTable: "kit_revision",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "fk_kit_line_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "bin_stock",
                columns: table => new
                {
                    lot_id = table.Column<int>(type: "integer", nullable: false),
                    bin_id = table.Column<int>(type: "integer", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    on_hand = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    reserved = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_bin_stock", x => new { x.lot_id, x.bin_id });
                    table.CheckConstraint("on_hand_not_negative", "on_hand >= 0");
                    table.CheckConstraint("reserved_within_on_hand", "reserved between 0 and on_hand");
                    table.ForeignKey(
                        name: "fk_bin_stock_bin_bin_id",
                        column: x => x.bin_id,
                        principalTable: "bin",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_bin_stock_lots_lot_id",
                        column: x => x.lot_id,
                        principalTable: "lot",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_bin_stock_part_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                })
                .Annotation("Npgsql:StorageParameter:fillfactor", 60);

            migrationBuilder.CreateTable(
                name: "account_claim",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    user_id = table.Column<int>(type: "integer", nullable: false),
                    claim_type = table.Column<string>(type: "text", nullable: true),
                    claim_value = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_account_claim", x => x.id);
                    table.ForeignKey(
                        name: "fk_account_claim_asp_net_users_user_id",
                        column: x => x.user_id,
                        principalTable: "account",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "account_login",
                columns: table => new
                {
                    login_provider = table.Column<string>(type: "text", nullable: false),
                    provider_key = table.Column<string>(type: "text", nullable: false),
                    provider_display_name = table.Column<string>(type: "text", nullable: true),
                    user_id = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_account_login", x => new { x.login_provider, x.provider_key });
                    table.ForeignKey(
                        name: "fk_account_login_asp_net_users_user_id",
                        column: x => x.user_id,
                        principalTable: "account",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "account_token",
                columns: table => new
                {
                    user_id = table.Column<int>(type: "integer", nullable: false),
                    login_provider = table.Column<string>(type: "text", nullable: false),
                    name = table.Column<string>(type: "text", nullable: false),
                    value = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_account_token", x => new { x.user_id, x.login_provider, x.name });
                    table.ForeignKey(
                        name: "fk_account_token_account_user_id",
                        column: x => x.user_id,
                        principalTable: "account",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "job_kit",
                columns: table => new
                {
                    job_id = table.Column<int>(type: "integer", nullable: false),
                    kit_part_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_job_kit", x => new { x.job_id, x.kit_part_id });
                    table.CheckConstraint("quantity_above_zero", "quantity > 0");
                    table.ForeignKey(
                        name: "fk_job_kit_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "job",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "fk_job_kit_part_kit_part_id",
                        column: x => x.kit_part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "procedure_step",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    procedure_revision_id = table.Column<int>(type: "integer", nullable: false),
                    model_id = table.Column<int>(type: "integer", nullable: true),
                    number = table.Column<int>(type: "integer", nullable: false),
                    part_of = table.Column<string>(type: "text", nullable: false),
                    kind = table.Column<string>(type: "text", nullable: false),
                    text = table.Column<string>(type: "text", nullable: false),
                    signal_word = table.Column<string>(type: "text", nullable: true),
                    hazard = table.Column<string>(type: "text", nullable: true),
                    consequence = table.Column<string>(type: "text", nullable: true),
                    avoid = table.Column<string>(type: "text", nullable: true),
                    joint = table.Column<string>(type: "text", nullable: true),
                    bolts = table.Column<int>(type: "integer", nullable: true),
                    sequence = table.Column<string>(type: "text", nullable: true),
                    target = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    low = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    high = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    unit = table.Column<string>(type: "text", nullable: true),
                    tolerance_pct = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    passes = table.Column<int>(type: "integer", nullable: true),
                    hold_point = table.Column<bool>(type: "boolean", nullable: false),
                    witnessed = table.Column<bool>(type: "boolean", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: true),
                    minutes = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    tool = table.Column<string>(type: "text", nullable: true),
                    document = table.Column<string>(type: "text", nullable: true),
                    edition = table.Column<string>(type: "text", nullable: true),
                    page = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_procedure_step", x => x.id);
                    table.ForeignKey(
                        name: "fk_procedure_step_part_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_procedure_step_procedure_revision_procedure_revision_id",
                        column: x => x.procedure_revision_id,
                        principalTable: "procedure_revision",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "fk_procedure_step_pump_models_model_id",
                        column: x => x.model_id,
                        principalTable: "pump_model",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "stroke_reading",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    pump_id = table.Column<int>(type: "integer", nullable: false),
                    read_on = table.Column<DateOnly>(type: "date", nullable: false),
                    strokes = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_stroke_reading", x => x.id);
                    table.ForeignKey(
                        name: "fk_stroke_reading_pump_pump_id",
                        column: x => x.pump_id,
                        principalTable: "pump",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "work_order",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    number = table.Column<string>(type: "character varying(30)", maxLength: 30, nullable: false),
                    state = table.Column<string>(type: "text", nullable: false),
                    pump_id = table.Column<int>(type: "integer", nullable: false),
                    position_id = table.Column<int>(type: "integer", nullable: false),
                    job_id = table.Column<int>(type: "integer", nullable: false),
                    needed_by = table.Column<DateOnly>(type: "date", nullable: false),
                    planned_fit_on = table.Column<DateOnly>(type: "date", nullable: true),
                    work_class = table.Column<int>(type: "integer", nullable: false),
                    breakdown = table.Column<bool>(type: "boolean", nullable: false),
                    made_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    made_by_id = table.Column<int>(type: "integer", nullable: false),
                    opened_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    staged_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    staged_place = table.Column<string>(type: "text", nullable: true),
                    started_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    finished_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    closed_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    cancelled_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    cancel_reason = table.Column<string>(type: "text", nullable: true),
                    pump_is = table.Column<string>(type: "text", nullable: true),
                    paused = table.Column<string>(type: "text", nullable: true),
                    estimated_hours = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    hourly_rate = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    procedure_revision_id = table.Column<int>(type: "integer", nullable: true),
                    downtime_hours = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    stroke_count = table.Column<long>(type: "bigint", nullable: true),
                    actual_parts = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    actual_labour = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    version = table.Column<long>(type: "bigint", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_work_order", x => x.id);
                    table.CheckConstraint("work_class_1_to_10", "work_class between 1 and 10");
                    table.ForeignKey(
                        name: "fk_work_order_jobs_job_id",
                        column: x => x.job_id,
                        principalTable: "job",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_work_order_people_made_by_id",
                        column: x => x.made_by_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_work_order_positions_position_id",
                        column: x => x.position_id,
                        principalTable: "position",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_work_order_procedure_revisions_procedure_revision_id",
                        column: x => x.procedure_revision_id,
                        principalTable: "procedure_revision",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_work_order_pumps_pump_id",
                        column: x => x.pump_id,
                        principalTable: "pump",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "audit",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    person_id = table.Column<int>(type: "integer", nullable: false),
                    operation = table.Column<string>(type: "text", nullable: false),
                    order_id = table.Column<int>(type: "integer", nullable: true),
                    subject = table.Column<string>(type: "text", nullable: false),
                    sentence = table.Column<string>(type: "text", nullable: false),
                    device = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_audit", x => x.id);
                    table.ForeignKey(
                        name: "fk_audit_people_person_id",
                        column: x => x.person_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_audit_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "demand_line",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    source = table.Column<string>(type: "text", nullable: false),
                    gross = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    built = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    required = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    picked = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    reserved = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    @short = table.Column<decimal>(name: "short", type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    spare = table.Column<bool>(type: "boolean", nullable: false),
                    unit_cost = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    released_by_id = table.Column<int>(type: "integer", nullable: true),
                    release_reason = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_demand_line", x => x.id);
                    table.CheckConstraint("gross_is_required_and_built", "gross = required + built");
                    table.CheckConstraint("nothing_negative", "gross >= 0 and built >= 0 and picked >= 0 and reserved >= 0 and short >= 0");
                    table.CheckConstraint("required_is_picked_reserved_and_short", "required = picked + reserved + short");
                    table.ForeignKey(
                        name: "fk_demand_line_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_demand_line_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "fitted_kit",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    pump_id = table.Column<int>(type: "integer", nullable: false),
                    kit_revision_id = table.Column<int>(type: "integer", nullable: false),
                    kit_part_id = table.Column<int>(type: "integer", nullable: false),
                    fitted_on = table.Column<DateOnly>(type: "date", nullable: false),
                    order_id = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_fitted_kit", x => x.id);
                    table.ForeignKey(
                        name: "fk_fitted_kit_kit_revision_kit_revision_id",
                        column: x => x.kit_revision_id,
                        principalTable: "kit_revision",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_fitted_kit_part_kit_part_id",
                        column: x => x.kit_part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_fitted_kit_pumps_pump_id",
                        column: x => x.pump_id,
                        principalTable: "pump",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_fitted_kit_work_order_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "fitted_lot",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    pump_id = table.Column<int>(type: "integer", nullable: false),
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    lot_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    fitted_on = table.Column<DateOnly>(type: "date", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_fitted_lot", x => x.id);
                    table.ForeignKey(
                        name: "fk_fitted_lot_lots_lot_id",
                        column: x => x.lot_id,
                        principalTable: "lot",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_fitted_lot_part_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_fitted_lot_pumps_pump_id",
                        column: x => x.pump_id,
                        principalTable: "pump",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_fitted_lot_work_order_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "hours_worked",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    person = table.Column<string>(type: "text", nullable: false),
                    hours = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    hourly_rate = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_hours_worked", x => x.id);
                    table.CheckConstraint("hours_not_negative", "hours >= 0");
                    table.ForeignKey(
                        name: "fk_hours_worked_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "movement",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    kind = table.Column<string>(type: "text", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    lot_id = table.Column<int>(type: "integer", nullable: false),
                    bin_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    on_hand_after = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    order_id = table.Column<int>(type: "integer", nullable: true),
                    person_id = table.Column<int>(type: "integer", nullable: false),
                    unit_cost = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    reason = table.Column<string>(type: "text", nullable: true),
                    corrects_id = table.Column<long>(type: "bigint", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_movement", x => x.id);
                    table.CheckConstraint("moves_something", "quantity <> 0");
                    table.CheckConstraint("on_hand_after_not_negative", "on_hand_after >= 0");
                    table.ForeignKey(
                        name: "fk_movement_bin_bin_id",
                        column: x => x.bin_id,
                        principalTable: "bin",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_movement_lot_lot_id",
                        column: x => x.lot_id,
                        principalTable: "lot",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_movement_movement_corrects_id",
                        column: x => x.corrects_id,
                        principalTable: "movement",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_movement_part_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_movement_person_person_id",
                        column: x => x.person_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_movement_work_order_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "order_check",
                columns: table => new
                {
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    kit = table.Column<string>(type: "text", nullable: false),
                    check = table.Column<string>(type: "text", nullable: false),
                    result = table.Column<string>(type: "text", nullable: true),
                    reason = table.Column<string>(type: "text", nullable: true),
                    numbers = table.Column<string>(type: "jsonb", nullable: true),
                    answer = table.Column<string>(type: "text", nullable: true),
                    answer_note = table.Column<string>(type: "text", nullable: true),
                    answered_by_id = table.Column<int>(type: "integer", nullable: true),
                    answered_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_order_check", x => new { x.order_id, x.kit, x.check });
                    table.ForeignKey(
                        name: "fk_order_check_people_answered_by_id",
                        column: x => x.answered_by_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_order_check_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "order_kit",
                columns: table => new
                {
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    kit_part_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    kit_revision_id = table.Column<int>(type: "integer", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_order_kit", x => new { x.order_id, x.kit_part_id });
                    table.CheckConstraint("quantity_above_zero", "quantity > 0");
                    table.ForeignKey(
                        name: "fk_order_kit_kit_revision_kit_revision_id",
                        column: x => x.kit_revision_id,
                        principalTable: "kit_revision",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_order_kit_parts_kit_part_id",
                        column: x => x.kit_part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_order_kit_work_order_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "order_step",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    pieces = table.Column<int>(type: "integer", nullable: false),
                    released_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    released_by_id = table.Column<int>(type: "integer", nullable: true),
                    accepted_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    accepted_by_id = table.Column<int>(type: "integer", nullable: true),
                    accept_reason = table.Column<string>(type: "text", nullable: true),
                    number = table.Column<int>(type: "integer", nullable: false),
                    part_of = table.Column<string>(type: "text", nullable: false),
                    kind = table.Column<string>(type: "text", nullable: false),
                    text = table.Column<string>(type: "text", nullable: false),
                    signal_word = table.Column<string>(type: "text", nullable: true),
                    hazard = table.Column<string>(type: "text", nullable: true),
                    consequence = table.Column<string>(type: "text", nullable: true),
                    avoid = table.Column<string>(type: "text", nullable: true),
                    joint = table.Column<string>(type: "text", nullable: true),
                    bolts = table.Column<int>(type: "integer", nullable: true),
                    sequence = table.Column<string>(type: "text", nullable: true),
                    target = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    low = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    high = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    unit = table.Column<string>(type: "text", nullable: true),
                    tolerance_pct = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    passes = table.Column<int>(type: "integer", nullable: true),
                    hold_point = table.Column<bool>(type: "boolean", nullable: false),
                    witnessed = table.Column<bool>(type: "boolean", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: true),
                    minutes = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    tool = table.Column<string>(type: "text", nullable: true),
                    document = table.Column<string>(type: "text", nullable: true),
                    edition = table.Column<string>(type: "text", nullable: true),
                    page = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_order_step", x => x.id);
                    table.ForeignKey(
                        name: "fk_order_step_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_order_step_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "permit",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    kind = table.Column<string>(type: "text", nullable: false),
                    reference = table.Column<string>(type: "text", nullable: false),
                    valid_to = table.Column<DateOnly>(type: "date", nullable: true),
                    recorded_by_id = table.Column<int>(type: "integer", nullable: false),
                    recorded_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_permit", x => x.id);
                    table.ForeignKey(
                        name: "fk_permit_people_recorded_by_id",
                        column: x => x.recorded_by_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_permit_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "pump_change",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    pump_id = table.Column<int>(type: "integer", nullable: false),
                    order_id = table.Column<int>(type: "integer", nullable: true),
                    on = table.Column<DateOnly>(type: "date", nullable: false),
                    what = table.Column<string>(type: "text", nullable: false),
                    model_before = table.Column<int>(type: "integer", nullable: false),
                    model_after = table.Column<int>(type: "integer", nullable: false),
                    stroke_count = table.Column<long>(type: "bigint", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_pump_change", x => x.id);
                    table.ForeignKey(
                        name: "fk_pump_change_pump_models_model_after",
                        column: x => x.model_after,
                        principalTable: "pump_model",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pump_change_pump_models_model_before",
                        column: x => x.model_before,
                        principalTable: "pump_model",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pump_change_pumps_pump_id",
                        column: x => x.pump_id,
                        principalTable: "pump",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_pump_change_work_order_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "removed_part",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    to = table.Column<string>(type: "text", nullable: false),
                    decontaminated = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_removed_part", x => x.id);
                    table.CheckConstraint("quantity_above_zero", "quantity > 0");
                    table.ForeignKey(
                        name: "fk_removed_part_parts_part_id",
                        column: x => x.part_id,
                        principalTable: "part",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_removed_part_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "demand_origin",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    demand_line_id = table.Column<int>(type: "integer", nullable: false),
                    kit = table.Column<string>(type: "text", nullable: false),
                    line = table.Column<int>(type: "integer", nullable: false),
                    quantity = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_demand_origin", x => x.id);
                    table.ForeignKey(
                        name: "fk_demand_origin_demand_line_demand_line_id",
                        column: x => x.demand_line_id,
                        principalTable: "demand_line",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "reservation",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    demand_line_id = table.Column<int>(type: "integer", nullable: false),
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    part_id = table.Column<int>(type: "integer", nullable: false),
                    lot_id = table.Column<int>(type: "integer", nullable: false),
                    bin_id = table.Column<int>(type: "integer", nullable: false),
                    held = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    picked = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    fitted = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    returned = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false),
                    scrapped = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_reservation", x => x.id);
                    table.CheckConstraint("accounted_within_picked", "fitted >= 0 and returned >= 0 and scrapped >= 0 and fitted + returned + scrapped <= picked");
                    table.CheckConstraint("held_not_negative", "held >= 0");
                    table.ForeignKey(
                        name: "fk_reservation_bin_stock_lot_id_bin_id",
                        columns: x => new { x.lot_id, x.bin_id },
                        principalTable: "bin_stock",
                        principalColumns: new[] { "lot_id", "bin_id" },
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_reservation_demand_line_demand_line_id",
                        column: x => x.demand_line_id,
                        principalTable: "demand_line",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_reservation_work_order_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "step_result",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    order_id = table.Column<int>(type: "integer", nullable: false),
                    order_step_id = table.Column<int>(type: "integer", nullable: false),
                    outcome = table.Column<string>(type: "text", nullable: false),
                    value = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    unit = table.Column<string>(type: "text", nullable: true),
                    pass = table.Column<int>(type: "integer", nullable: true),
                    bolt = table.Column<int>(type: "integer", nullable: true),
                    piece = table.Column<int>(type: "integer", nullable: true),
                    decision = table.Column<string>(type: "text", nullable: true),
                    tool = table.Column<string>(type: "text", nullable: true),
                    note = table.Column<string>(type: "text", nullable: true),
                    recorded_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    received_at = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    person_id = table.Column<int>(type: "integer", nullable: false),
                    witness_id = table.Column<int>(type: "integer", nullable: true),
                    witness_value = table.Column<decimal>(type: "numeric(18,4)", precision: 18, scale: 4, nullable: true),
                    corrects_id = table.Column<long>(type: "bigint", nullable: true),
                    device = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_step_result", x => x.id);
                    table.CheckConstraint("witness_is_another", "witness_id is null or witness_id <> person_id");
                    table.ForeignKey(
                        name: "fk_step_result_order_step_order_step_id",
                        column: x => x.order_step_id,
                        principalTable: "order_step",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_step_result_people_person_id",
                        column: x => x.person_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_step_result_people_witness_id",
                        column: x => x.witness_id,
                        principalTable: "person",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_step_result_step_result_corrects_id",
                        column: x => x.corrects_id,
                        principalTable: "step_result",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_step_result_work_orders_order_id",
                        column: x => x.order_id,
                        principalTable: "work_order",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "EmailIndex",
                table: "account",
                column: "normalized_email");

            migrationBuilder.CreateIndex(
                name: "UserNameIndex",
                table: "account",
                column: "normalized_user_name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_account_person_id",
                table: "account",
                column: "person_id",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_account_claim_user_id",
                table: "account_claim",
                column: "user_id");

            migrationBuilder.CreateIndex(
                name: "ix_account_login_user_id",
                table: "account_login",
                column: "user_id");

            migrationBuilder.CreateIndex(
                name: "ix_api_token_hash",
                table: "api_token",
                column: "hash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_api_token_person_id",
                table: "api_token",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "ix_audit_order_id",
                table: "audit",
                column: "order_id",
                filter: "order_id is not null");

            migrationBuilder.CreateIndex(
                name: "ix_audit_person_id",
                table: "audit",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "ix_bin_code",
                table: "bin",
                column: "code",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_bin_stock_bin_id",
                table: "bin_stock",
                column: "bin_id");

            migrationBuilder.CreateIndex(
                name: "ix_bin_stock_part_id",
                table: "bin_stock",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_command_at",
                table: "command",
                column: "at");

            migrationBuilder.CreateIndex(
                name: "ix_crew_name",
                table: "crew",
                column: "name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_demand_line_order_id_part_id_source",
                table: "demand_line",
                columns: new[] { "order_id", "part_id", "source" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_demand_line_short",
                table: "demand_line",
                column: "part_id",
                filter: "short > 0");

            migrationBuilder.CreateIndex(
                name: "ix_demand_origin_demand_line_id",
                table: "demand_origin",
                column: "demand_line_id");

            migrationBuilder.CreateIndex(
                name: "ix_fitted_kit_kit_part_id",
                table: "fitted_kit",
                column: "kit_part_id");

            migrationBuilder.CreateIndex(
                name: "ix_fitted_kit_kit_revision_id",
                table: "fitted_kit",
                column: "kit_revision_id");

            migrationBuilder.CreateIndex(
                name: "ix_fitted_kit_order_id",
                table: "fitted_kit",
                column: "order_id");

            migrationBuilder.CreateIndex(
                name: "ix_fitted_kit_pump_id_kit_part_id",
                table: "fitted_kit",
                columns: new[] { "pump_id", "kit_part_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_fitted_lot_lot_id",
                table: "fitted_lot",
                column: "lot_id");

            migrationBuilder.CreateIndex(
                name: "ix_fitted_lot_order_id",
                table: "fitted_lot",
                column: "order_id");

            migrationBuilder.CreateIndex(
                name: "ix_fitted_lot_part_id",
                table: "fitted_lot",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_fitted_lot_pump_id",
                table: "fitted_lot",
                column: "pump_id");

            migrationBuilder.CreateIndex(
                name: "ix_fluid_name",
                table: "fluid",
                column: "name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_hours_worked_order_id",
                table: "hours_worked",
                column: "order_id");

            migrationBuilder.CreateIndex(
                name: "ix_incoming_part_id",
                table: "incoming",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_incoming_reference_part_id",
                table: "incoming",
                columns: new[] { "reference", "part_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_job_code",
                table: "job",
                column: "code",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_job_procedure_id",
                table: "job",
                column: "procedure_id");

            migrationBuilder.CreateIndex(
                name: "ix_job_kit_kit_part_id",
                table: "job_kit",
                column: "kit_part_id");

            migrationBuilder.CreateIndex(
                name: "ix_kit_fit_converts_to_id",
                table: "kit_fit",
                column: "converts_to_id");

            migrationBuilder.CreateIndex(
                name: "ix_kit_fit_kit_revision_id_model_id",
                table: "kit_fit",
                columns: new[] { "kit_revision_id", "model_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_kit_fit_model_id",
                table: "kit_fit",
                column: "model_id");

            migrationBuilder.CreateIndex(
                name: "ix_kit_line_kit_revision_id_number",
                table: "kit_line",
                columns: new[] { "kit_revision_id", "number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_kit_line_part_id",
                table: "kit_line",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_kit_revision_current",
                table: "kit_revision",
                column: "part_id",
                unique: true,
                filter: "state = 'released'");

            migrationBuilder.CreateIndex(
                name: "ix_kit_revision_part_id_number",
                table: "kit_revision",
                columns: new[] { "part_id", "number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_lot_number",
                table: "lot",
                column: "number");

            migrationBuilder.CreateIndex(
                name: "ix_lot_part_id_number",
                table: "lot",
                columns: new[] { "part_id", "number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_movement_bin_id",
                table: "movement",
                column: "bin_id");

            migrationBuilder.CreateIndex(
                name: "ix_movement_corrects_id",
                table: "movement",
                column: "corrects_id");

            migrationBuilder.CreateIndex(
                name: "ix_movement_lot_id",
                table: "movement",
                column: "lot_id");

            migrationBuilder.CreateIndex(
                name: "ix_movement_order_id",
                table: "movement",
                column: "order_id",
                filter: "order_id is not null");

            migrationBuilder.CreateIndex(
                name: "ix_movement_part_id_id",
                table: "movement",
                columns: new[] { "part_id", "id" });

            migrationBuilder.CreateIndex(
                name: "ix_movement_person_id",
                table: "movement",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "ix_order_check_answered_by_id",
                table: "order_check",
                column: "answered_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_order_kit_kit_part_id",
                table: "order_kit",
                column: "kit_part_id");

            migrationBuilder.CreateIndex(
                name: "ix_order_kit_kit_revision_id",
                table: "order_kit",
                column: "kit_revision_id");

            migrationBuilder.CreateIndex(
                name: "ix_order_step_order_id_number",
                table: "order_step",
                columns: new[] { "order_id", "number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_order_step_part_id",
                table: "order_step",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_part_barcode",
                table: "part",
                column: "barcode");

            migrationBuilder.CreateIndex(
                name: "ix_part_number",
                table: "part",
                column: "number",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_part_alternate_alternate_id",
                table: "part_alternate",
                column: "alternate_id");

            migrationBuilder.CreateIndex(
                name: "ix_permit_order_id",
                table: "permit",
                column: "order_id");

            migrationBuilder.CreateIndex(
                name: "ix_permit_recorded_by_id",
                table: "permit",
                column: "recorded_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_person_name",
                table: "person",
                column: "name",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_position_fluid_id",
                table: "position",
                column: "fluid_id");

            migrationBuilder.CreateIndex(
                name: "ix_position_tag",
                table: "position",
                column: "tag",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_procedure_code",
                table: "procedure",
                column: "code",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_procedure_revision_current",
                table: "procedure_revision",
                column: "procedure_id",
                unique: true,
                filter: "state = 'released'");

            migrationBuilder.CreateIndex(
                name: "ix_procedure_revision_procedure_id_number",
                table: "procedure_revision",
                columns: new[] { "procedure_id", "number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_procedure_step_model_id",
                table: "procedure_step",
                column: "model_id");

            migrationBuilder.CreateIndex(
                name: "ix_procedure_step_part_id",
                table: "procedure_step",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_procedure_step_procedure_revision_id_number",
                table: "procedure_step",
                columns: new[] { "procedure_revision_id", "number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_pump_model_id",
                table: "pump",
                column: "model_id");

            migrationBuilder.CreateIndex(
                name: "ix_pump_position_id",
                table: "pump",
                column: "position_id",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_pump_serial",
                table: "pump",
                column: "serial",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_pump_change_model_after",
                table: "pump_change",
                column: "model_after");

            migrationBuilder.CreateIndex(
                name: "ix_pump_change_model_before",
                table: "pump_change",
                column: "model_before");

            migrationBuilder.CreateIndex(
                name: "ix_pump_change_order_id",
                table: "pump_change",
                column: "order_id");

            migrationBuilder.CreateIndex(
                name: "ix_pump_change_pump_id",
                table: "pump_change",
                column: "pump_id");

            migrationBuilder.CreateIndex(
                name: "ix_pump_model_code",
                table: "pump_model",
                column: "code",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_removed_part_order_id",
                table: "removed_part",
                column: "order_id");

            migrationBuilder.CreateIndex(
                name: "ix_removed_part_part_id",
                table: "removed_part",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_reservation_demand_line_id_lot_id_bin_id",
                table: "reservation",
                columns: new[] { "demand_line_id", "lot_id", "bin_id" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_reservation_lot_id_bin_id",
                table: "reservation",
                columns: new[] { "lot_id", "bin_id" });

            migrationBuilder.CreateIndex(
                name: "ix_reservation_order_id",
                table: "reservation",
                column: "order_id");

            migrationBuilder.CreateIndex(
                name: "ix_reservation_part_id",
                table: "reservation",
                column: "part_id");

            migrationBuilder.CreateIndex(
                name: "ix_step_result_corrects_id",
                table: "step_result",
                column: "corrects_id");

            migrationBuilder.CreateIndex(
                name: "ix_step_result_order_id",
                table: "step_result",
                column: "order_id");

            migrationBuilder.CreateIndex(
                name: "ix_step_result_order_step_id",
                table: "step_result",
                column: "order_step_id");

            migrationBuilder.CreateIndex(
                name: "ix_step_result_person_id",
                table: "step_result",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "ix_step_result_witness_id",
                table: "step_result",
                column: "witness_id");

            migrationBuilder.CreateIndex(
                name: "ix_stroke_reading_pump_id_read_on",
                table: "stroke_reading",
                columns: new[] { "pump_id", "read_on" });

            migrationBuilder.CreateIndex(
                name: "ix_tool_code",
                table: "tool",
                column: "code",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_work_order_job_id",
                table: "work_order",
                column: "job_id");

            migrationBuilder.CreateIndex(
                name: "ix_work_order_made_by_id",
                table: "work_order",
                column: "made_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_work_order_needed_by_id",
                table: "work_order",
                columns: new[] { "needed_by", "id" });

            migrationBuilder.CreateIndex(
                name: "ix_work_order_number",
                table: "work_order",
                column: "number",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_work_order_position_id",
                table: "work_order",
                column: "position_id");

            migrationBuilder.CreateIndex(
                name: "ix_work_order_procedure_revision_id",
                table: "work_order",
                column: "procedure_revision_id");

            migrationBuilder.CreateIndex(
                name: "ix_work_order_pump_id",
                table: "work_order",
                column: "pump_id");

            migrationBuilder.CreateIndex(
                name: "ix_work_order_state_id",
                table: "work_order",
                columns: new[] { "state", "id" });
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "account_claim");

            migrationBuilder.DropTable(
                name: "account_login");

            migrationBuilder.DropTable(
                name: "account_token");

            migrationBuilder.DropTable(
                name: "api_token");

            migrationBuilder.DropTable(
                name: "audit");

            migrationBuilder.DropTable(
                name: "command");

            migrationBuilder.DropTable(
                name: "crew");

            migrationBuilder.DropTable(
                name: "demand_origin");

            migrationBuilder.DropTable(
                name: "fitted_kit");

            migrationBuilder.DropTable(
                name: "fitted_lot");

            migrationBuilder.DropTable(
                name: "hours_worked");

            migrationBuilder.DropTable(
                name: "incoming");

            migrationBuilder.DropTable(
                name: "job_kit");

            migrationBuilder.DropTable(
                name: "kit_fit");

            migrationBuilder.DropTable(
                name: "kit_line");

            migrationBuilder.DropTable(
                name: "movement");

            migrationBuilder.DropTable(
                name: "order_check");

            migrationBuilder.DropTable(
                name: "order_kit");

            migrationBuilder.DropTable(
                name: "part_alternate");

            migrationBuilder.DropTable(
                name: "part_stock");

            migrationBuilder.DropTable(
                name: "permit");

            migrationBuilder.DropTable(
                name: "plant_setting");

            migrationBuilder.DropTable(
                name: "procedure_step");

            migrationBuilder.DropTable(
                name: "pump_change");

            migrationBuilder.DropTable(
                name: "removed_part");

            migrationBuilder.DropTable(
                name: "reservation");

            migrationBuilder.DropTable(
                name: "step_result");

            migrationBuilder.DropTable(
                name: "stroke_reading");

            migrationBuilder.DropTable(
                name: "tool");

            migrationBuilder.DropTable(
                name: "account");

            migrationBuilder.DropTable(
                name: "kit_revision");

            migrationBuilder.DropTable(
                name: "bin_stock");

            migrationBuilder.DropTable(
                name: "demand_line");

            migrationBuilder.DropTable(
                name: "order_step");

            migrationBuilder.DropTable(
                name: "bin");

            migrationBuilder.DropTable(
                name: "lot");

            migrationBuilder.DropTable(
                name: "work_order");

            migrationBuilder.DropTable(
                name: "part");

            migrationBuilder.DropTable(
                name: "job");

            migrationBuilder.DropTable(
                name: "person");

            migrationBuilder.DropTable(
                name: "procedure_revision");

            migrationBuilder.DropTable(
                name: "pump");

            migrationBuilder.DropTable(
                name: "procedure");

            migrationBuilder.DropTable(
                name: "position");

            migrationBuilder.DropTable(
                name: "pump_model");

            migrationBuilder.DropTable(
                name: "fluid");

            migrationBuilder.DropSequence(
                name: "order_number");
        }
    }
}
