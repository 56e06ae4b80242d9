namespace KitOrders.TestPlants;

/// <summary>
/// The worked example of demand as import files: kit K of a buildable valve assembly V (body B, coil C, seal set S) and a plug
/// P in the box, an elbow E bought separately and two quick-exhaust valves Q kept from the pump. Free: K 1, V 0, B 4, C 0,
/// S 2, P 9, E 1, Q 3.
/// </summary>
static class WorkedPlant
{
    public static readonly (string File, string Csv)[] Files =
    [
        ("plant", "key,value\nname,Worked Example Works\ntime_zone,UTC\ncurrency,EUR\n"),
        ("bins", "bin,walk_order\nA-1,1\nA-2,2\nB-1,3\n"),
        ("parts", """
            part,description,unit,elastomers,unit_cost,lead_time_days
            K,Conversion kit,each,,,
            V,Valve assembly,each,,,
            B,Valve body,each,,100,10
            C,Coil,each,,40,12
            S,Seal set,set,NBR,20,5
            P,Plug,each,,2,3
            E,Elbow,each,,6,8
            Q,Quick-exhaust valve,each,,30,14
            """),
        ("fluids", "fluid,hazard,approved,refused\nwater,none,PP+PTFE,\n"),
        ("pump-models", "model,description,control,sensing_rod,displacement_ml,ports\nM30,Pilot air,pilotAir,yes,200,exhaust=NPT 1/2 female\nM30-S,Solenoid,solenoid,yes,200,exhaust=NPT 1/2 female\n"),
        ("pumps", """
            tag,serial,model,area,zone,supply_kind,supply_volts,cable_m,cable_mm2,fluid,criticality,sensing_rod,strokes_per_pulse
            P-1,S-1,M30,Hall,none,dc,24.0,10,0.75,water,8,yes,2
            P-2,S-2,M30,Hall,none,dc,24.0,10,0.75,water,5,yes,2
            """),
        ("kits", """
            kit,revision,line,part,quantity,source,spare_policy,buildable
            V,1,1,B,1,inTheBox,,yes
            V,1,2,C,1,inTheBox,,
            V,1,3,S,1,inTheBox,,
            K,1,1,V,1,inTheBox,,yes
            K,1,2,P,1,inTheBox,,
            K,1,3,E,1,boughtSeparately,,
            K,1,4,Q,2,carriedOver,all,
            """),
        ("fits", "kit,revision,model,converts_to,needs_sensing_rod,ports,supply_kind,volts,volts_tolerance_pct,amps,materials,once\nK,1,M30,M30-S,yes,exhaust=NPT 1/2 male,dc,24,10,0.2,PP+PTFE,yes\n"),
        ("procedures", """
            procedure,revision,step,part_of,kind,text,signal_word,hazard,consequence,avoid,joint,bolts,sequence,target,low,high,unit,tolerance_pct,passes,hold_point,part
            PR,1,1,preliminary,check,Hazards: read the fluid card,,,,,,,,,,,,,,,
            PR,1,2,preliminary,instruction,Stop: stop the pump,,,,,,,,,,,,,,,
            PR,1,3,preliminary,instruction,"Isolate: lock air, electricity and both fluid sides",WARNING,Stored air,It can break a hand,Lock it,,,,,,,,,,,
            PR,1,4,preliminary,instruction,Relieve: vent and drain,,,,,,,,,,,,,,,
            PR,1,5,preliminary,reading,Verify: read the gauge,,,,,,,,,0,0,bar,,,yes,
            PR,1,6,main,carryOver,Judge the quick-exhaust valves,,,,,,,,,,,,,,,Q
            PR,1,7,main,torque,Tighten the cover,,,,,cover,4,alternate,9.4,,,Nm,5,2,,
            PR,1,8,closeUp,instruction,Clear: look around,,,,,,,,,,,,,,,
            PR,1,9,closeUp,functionTest,Run it,,,,,,,,,,,,,,,
            """),
        ("crews", "crew,people,hours_per_week,hourly_rate\nFitters,2,80,50\n"),
        ("jobs", "job,description,procedure,kits,crew,hours\nCONV,Convert control,PR,K,Fitters,3.5\n"),
        ("stock", """
            part,lot,bin,quantity,received_on,cured_on,unit_cost
            K,K-1,A-1,1,today-30,today-60,200
            B,B-1,A-2,4,today-30,,100
            S,S-1,A-2,2,today-30,today-60,20
            P,P-1,A-1,9,today-30,,2
            E,E-1,B-1,1,today-30,,6
            Q,Q-1,B-1,3,today-30,,30
            """),
        ("incoming", "reference,part,quantity,promised_on,supplier\nPO-1,C,1,today+3,Maker\n"),
    ];
}
