/**
 * An invented company of a given size: every job the same kind of full re-side, with other hours, dates and places.
 * Seeded, so that a figure can be taken again.
 */
import type { CompanyInput } from "../../src/domain/company-schema.js";
import { addDays, civilDate, type CivilDate } from "../../src/domain/time.js";
import { Random } from "../../src/planner/core/random.js";

export interface CompanySize {
  readonly crews: number;
  readonly jobs: number;
  /** Tasks in all; each job gets an equal share of at least 5. */
  readonly tasks: number;
  readonly firstDate: CivilDate;
  /** Promised dates are spread over so many days. */
  readonly days: number;
  readonly seed: number;
}

const TRADES = ["tear-off", "sheathing", "wrb", "windows", "trim", "siding", "stone", "caulk"];
const HOURS = [14, 8, 6, 18, 12, 30, 20, 8];
const AREAS = ["front", "left", "back", "right"];

export function bigCompany(size: CompanySize): CompanyInput {
  const random = new Random(size.seed);
  const perJob = Math.max(5, Math.round(size.tasks / size.jobs));
  return {
    format: "daylap-company/1",
    company: { name: "Skerry Exteriors", timeZone: "America/New_York", yard: { lat: 43.66, lon: -70.26 } },
    policy: {},
    trades: TRADES.map((id, index) => ({
      id,
      name: { en: id, es: id },
      stamp: `${String.fromCharCode(65 + index)}X`,
      outdoor: true,
      setupMinutes: 15 + (index % 3) * 5,
      cleanupMinutes: 20 + (index % 2) * 10,
    })),
    crews: Array.from({ length: size.crews }, (_, index) => crewOf(index)),
    equipment: [{ id: "lift", name: "Boom lift", count: Math.max(2, Math.round(size.crews / 5)) }],
    jobs: Array.from({ length: size.jobs }, (_, index) => ({
      id: `job-${index}`,
      name: `House ${index}`,
      site: { lat: 43.3 + random.next() * 0.6, lon: -70.8 + random.next() * 0.6 },
      promised: addDays(size.firstDate, Math.round(20 + (index / size.jobs) * size.days)),
      tasks: tasksOf(
        perJob,
        random,
        addDays(size.firstDate, Math.round((index / size.jobs) * size.days * 0.9) - 14),
      ),
    })),
  };
}

const HOURS_OF_DAY: [string, string] = ["07:00", "15:30"];

/** Three kinds of crew: openings, cladding, and both. */
function crewOf(index: number) {
  const kinds = [
    ["tear-off", "sheathing", "wrb", "windows"],
    ["trim", "siding", "caulk"],
    ["stone", "caulk", "trim"],
    ["tear-off", "sheathing", "wrb", "windows", "siding", "trim"],
  ];
  const kind = kinds[index % kinds.length] ?? [];
  return {
    id: `crew-${index}`,
    name: `Crew ${index}`,
    lead: `Lead ${index}`,
    size: 2 + (index % 3),
    trades: Object.fromEntries(kind.map((trade, place) => [trade, 0.85 + ((index + place) % 4) * 0.1])),
    week: { mon: HOURS_OF_DAY, tue: HOURS_OF_DAY, wed: HOURS_OF_DAY, thu: HOURS_OF_DAY, fri: HOURS_OF_DAY },
    startsAt: index % 2 === 0 ? ("site" as const) : ("yard" as const),
  };
}

/** Areas one after another: a chain of four, then cladding; siding waits for its chain, caulk for all. */
function tasksOf(count: number, random: Random, notBefore: CivilDate) {
  const tasks: NonNullable<NonNullable<CompanyInput["jobs"]>[number]["tasks"]> = [];
  for (let index = 0; index < count; index++) {
    const step = index % TRADES.length;
    const area = AREAS[Math.floor(index / TRADES.length) % AREAS.length] ?? "front";
    const first = step === 0;
    tasks.push({
      id: `t${index}`,
      trade: TRADES[step] ?? "caulk",
      title: `${TRADES[step] ?? ""} ${area}`,
      area: `${area} ${Math.floor(index / (TRADES.length * AREAS.length))}`,
      laborHours: Math.round((HOURS[step] ?? 8) * (0.6 + random.next() * 0.8)),
      units: step < 4 ? 4 : 1,
      after: first ? [] : [{ task: `t${index - 1}`, lagHours: step === 7 ? 24 : 0 }],
      opens: first,
      closes: step === 3 || (step < 3 && index === count - 1),
      equipment: step === 5 && random.next() < 0.3 ? { lift: 1 } : {},
      notBefore: first ? civilDate(notBefore) : null,
    });
  }
  return tasks;
}
