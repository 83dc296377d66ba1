/**
 * Small valid companies for example tests. `aCompany()` is one crew of three that knows every trade, one house on the
 * coast of southern Maine, and no tasks; each override replaces a whole top-level part.
 *
 *   const company = parsed(aCompany({ jobs: [aJob({ tasks: [aTask({ id: "t1", trade: "siding", laborHours: 6 })] })] }));
 *
 * All of it is invented. Setup takes 20 minutes and cleanup 30 in every outdoor trade; the shop takes none.
 */
import { formatFault, parseCompany } from "../../src/domain/company-file.js";
import type { Company, CompanyInput } from "../../src/domain/company-schema.js";

type TradeInput = CompanyInput["trades"][number];
type CrewInput = CompanyInput["crews"][number];
type JobInput = NonNullable<CompanyInput["jobs"]>[number];
type TaskInput = NonNullable<JobInput["tasks"]>[number];

/** The usual week of the builder's crew: Monday to Friday, 07:00 to 15:30. */
export const WEEKDAY_SHIFTS: CrewInput["week"] = {
  mon: ["07:00", "15:30"],
  tue: ["07:00", "15:30"],
  wed: ["07:00", "15:30"],
  thu: ["07:00", "15:30"],
  fri: ["07:00", "15:30"],
};

const OUTDOOR: readonly (readonly [id: string, en: string, es: string, stamp: string])[] = [
  ["tear-off", "Tear-off", "Desmontaje", "TO"],
  ["sheathing", "Sheathing", "Entablado", "SH"],
  ["reframe", "Reframe", "Reenmarcado", "RF"],
  ["wrb", "Weather barrier", "Barrera climática", "WB"],
  ["windows", "Windows", "Ventanas", "WN"],
  ["trim", "Trim and blocks", "Molduras y bloques", "TR"],
  ["siding", "Siding", "Revestimiento", "SD"],
  ["stone", "Stone", "Piedra", "ST"],
  ["caulk", "Caulk and paint", "Sellador y pintura", "CK"],
];

/** The ten trades of the builder: nine outdoors, and "shop", which needs no light and no setup. */
export const TRADES: TradeInput[] = [
  ...OUTDOOR.map(([id, en, es, stamp]) => aTrade({ id, name: { en, es }, stamp })),
  aTrade({
    id: "shop",
    name: { en: "Shop work", es: "Taller" },
    stamp: "SP",
    outdoor: false,
    setupMinutes: 0,
    cleanupMinutes: 0,
  }),
];

/** An outdoor trade (siding) with 20 minutes of setup and 30 of cleanup, and no weather limits. */
export function aTrade(overrides: Partial<TradeInput> = {}): TradeInput {
  return {
    id: "siding",
    name: { en: "Siding", es: "Revestimiento" },
    stamp: "SD",
    outdoor: true,
    setupMinutes: 20,
    cleanupMinutes: 30,
    ...overrides,
  };
}

/** Crew "alder": three people, every trade at pace 1, Monday to Friday 07:00 to 15:30, starts at the site. */
export function aCrew(overrides: Partial<CrewInput> = {}): CrewInput {
  return {
    id: "alder",
    name: "Alder",
    lead: "Noor",
    size: 3,
    trades: Object.fromEntries(TRADES.map((trade) => [trade.id, 1])),
    week: WEEKDAY_SHIFTS,
    ...overrides,
  };
}

/** House "spruce-14": no promised date, no access hours, no deliveries, no tasks. */
export function aJob(overrides: Partial<JobInput> = {}): JobInput {
  return { id: "spruce-14", name: "14 Spruce Lane", site: { lat: 43.63, lon: -70.28 }, ...overrides };
}

/** A task of six labor-hours of siding (two hours for crew "alder"). A wait: `aWait`. */
export function aTask(overrides: Partial<TaskInput> = {}): TaskInput {
  return { id: "t1", trade: "siding", title: "Side the front", laborHours: 6, ...overrides };
}

/** A wait of one business day, which needs no crew. */
export function aWait(overrides: Partial<TaskInput> = {}): TaskInput {
  return { id: "w1", trade: null, title: "Framing inspection", waitBusinessDays: 1, ...overrides };
}

/** The company: zone America/New_York, a yard, default policy, the ten trades, one crew, one house without tasks. */
export function aCompany(overrides: Partial<CompanyInput> = {}): CompanyInput {
  return {
    format: "daylap-company/1",
    company: { name: "Tern Rock Exteriors", timeZone: "America/New_York", yard: { lat: 43.66, lon: -70.26 } },
    trades: TRADES,
    crews: [aCrew()],
    jobs: [aJob()],
    ...overrides,
  };
}

/** The company that the rest of the house reads: defaults filled in. Throws every fault of the file. */
export function parsed(input: CompanyInput): Company {
  const result = parseCompany(input);
  if (!result.ok) throw new Error(`The company is not valid:\n${result.error.map(formatFault).join("\n")}`);
  return result.value;
}
