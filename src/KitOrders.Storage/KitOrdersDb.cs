using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;
using KitOrders.Storage.People;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Storage;

/// <summary>How everything is kept. One context per operation, made by the factory, never one for the life of a screen.</summary>
internal sealed class KitOrdersDb : IdentityUserContext<Account, int>
{
    /// <summary>An operation that fails is taken back as a whole, so the savepoint before every save would be two round trips for nothing.</summary>
    public KitOrdersDb(DbContextOptions<KitOrdersDb> options) : base(options) => Database.AutoSavepointsEnabled = false;

    public DbSet<Part> Parts => Set<Part>();
    public DbSet<PartStock> PartStocks => Set<PartStock>();
    public DbSet<PartAlternate> PartAlternates => Set<PartAlternate>();
    public DbSet<Fluid> Fluids => Set<Fluid>();
    public DbSet<PumpModel> PumpModels => Set<PumpModel>();
    public DbSet<Position> Positions => Set<Position>();
    public DbSet<Pump> Pumps => Set<Pump>();
    public DbSet<PumpStay> PumpStays => Set<PumpStay>();
    public DbSet<StrokeReading> StrokeReadings => Set<StrokeReading>();
    public DbSet<FittedKit> FittedKits => Set<FittedKit>();
    public DbSet<FittedLot> FittedLots => Set<FittedLot>();
    public DbSet<PumpChange> PumpChanges => Set<PumpChange>();
    public DbSet<Document> Documents => Set<Document>();
    public DbSet<DocumentRemoval> DocumentRemovals => Set<DocumentRemoval>();
    public DbSet<KitRevision> KitRevisions => Set<KitRevision>();
    public DbSet<KitLine> KitLines => Set<KitLine>();
    public DbSet<KitFit> KitFits => Set<KitFit>();
    public DbSet<Procedure> Procedures => Set<Procedure>();
    public DbSet<ProcedureRevision> ProcedureRevisions => Set<ProcedureRevision>();
    public DbSet<ProcedureStep> ProcedureSteps => Set<ProcedureStep>();
    public DbSet<PictureFile> PictureFiles => Set<PictureFile>();
    public DbSet<Job> Jobs => Set<Job>();
    public DbSet<Bin> Bins => Set<Bin>();
    public DbSet<Lot> Lots => Set<Lot>();
    public DbSet<BinStock> BinStocks => Set<BinStock>();
    public DbSet<Movement> Movements => Set<Movement>();
    public DbSet<HeldStock> HeldStocks => Set<HeldStock>();
    public DbSet<Reservation> Reservations => Set<Reservation>();
    public DbSet<PooledReservation> PooledReservations => Set<PooledReservation>();
    public DbSet<BinCount> BinCounts => Set<BinCount>();
    public DbSet<Incoming> Incomings => Set<Incoming>();
    public DbSet<WorkOrder> WorkOrders => Set<WorkOrder>();
    public DbSet<OrderKit> OrderKits => Set<OrderKit>();
    public DbSet<DemandedPart> DemandedParts => Set<DemandedPart>();
    public DbSet<DemandLine> DemandLines => Set<DemandLine>();
    public DbSet<Replacement> Replacements => Set<Replacement>();
    public DbSet<PooledLine> PooledLines => Set<PooledLine>();
    public DbSet<Campaign> Campaigns => Set<Campaign>();
    public DbSet<OrderSpareNeed> OrderSpareNeeds => Set<OrderSpareNeed>();
    public DbSet<SpareUse> SpareUses => Set<SpareUse>();
    public DbSet<OrderStep> OrderSteps => Set<OrderStep>();
    public DbSet<StepResult> StepResults => Set<StepResult>();
    public DbSet<StepPhotograph> StepPhotographs => Set<StepPhotograph>();
    public DbSet<OrderJudgement> OrderJudgements => Set<OrderJudgement>();
    public DbSet<OrderCheck> OrderChecks => Set<OrderCheck>();
    public DbSet<Permit> Permits => Set<Permit>();
    public DbSet<HoursWorked> HoursWorked => Set<HoursWorked>();
    public DbSet<RemovedPart> RemovedParts => Set<RemovedPart>();
    public DbSet<AuditEntry> Audit => Set<AuditEntry>();
    public DbSet<CommandRecord> Commands => Set<CommandRecord>();
    public DbSet<Person> People => Set<Person>();
    public DbSet<Crew> Crews => Set<Crew>();
    public DbSet<Tool> Tools => Set<Tool>();
    public DbSet<ApiToken> ApiTokens => Set<ApiToken>();
    public DbSet<SignInLink> SignInLinks => Set<SignInLink>();
    public DbSet<PlantSetting> PlantSettings => Set<PlantSetting>();

    protected override void ConfigureConventions(ModelConfigurationBuilder conventions) => Converters.Set(conventions);

    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        builder.ApplyConfigurationsFromAssembly(typeof(KitOrdersDb).Assembly);
        builder.HasSequence<long>("order_number").StartsAt(10001);
        builder.HasSequence<long>("campaign_number").StartsAt(101);
    }
}
