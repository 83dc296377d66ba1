/**
 * Plans written by hand, one block a line, for the checker's tests. Times are New York wall clock:
 *
 *   "alder 2027-03-16 07:20 09:20 work spruce-14 t1"      (then units, where there are some: 1-2)
 *
 * Entries and days follow from the lines; cost figures are written out, for they are what is being checked.
 */
import type { Company } from "../../../src/domain/company-schema.js";
import type { CostFigures, Plan, PlanBlock, PlanTask } from "../../../src/domain/plan-format.js";
import { present } from "../../../src/domain/result.js";
import { civilDate, minuteAt, parseInstant, toIso } from "../../../src/domain/time.js";
import { lightOn } from "../../../src/daylight/light.js";
import { checkPlan } from "../../../src/planner/check/check-plan.js";
import type { RuleName } from "../../../src/planner/check/broken-rule.js";

const ZONE = "America/New_York";

/** `2027-03-16 07:20`, New York, with its offset. */
export function ny(date: string, clock: string): string {
  return toIso(minuteAt(civilDate(date), clock, ZONE), ZONE);
}

export interface PlanInWords {
  readonly asOf?: string;
  readonly lines: readonly string[];
  /** Waits and tasks of 0 hours, which have no block: job, task, start, end. */
  readonly waits?: readonly (readonly [job: string, task: string, start: string, end: string])[];
  readonly impossible?: Plan["impossible"];
  readonly unkept?: Plan["unkept"];
  readonly cost?: Partial<CostFigures>;
  /** Where the shift does not end at 15:30: clock time by crew and date. */
  readonly shiftEnds?: Readonly<Record<string, string>>;
}

const BECAUSE: PlanTask["because"] = {
  kind: "start-of-plan",
  text: { en: "The plan starts here.", es: "El plan empieza aquí." },
  by: null,
  until: null,
};

export function planFrom(company: Company, words: PlanInWords): Plan {
  const blocks = words.lines.map(toBlock);
  const cost = {
    lateDays: 0,
    idleCrewHours: 0,
    moves: 0,
    changes: 0,
    openNights: 0,
    overtimeCrewHours: 0,
    ...words.cost,
  };
  const price = company.policy.cost;
  return {
    format: "daylap-plan/1",
    asOf: words.asOf ?? ny("2027-03-16", "00:00"),
    seed: 1,
    iterations: 0,
    blocks,
    tasks: [
      ...entriesOf(blocks),
      ...(words.waits ?? []).map(([job, task, start, end]) => ({
        job,
        task,
        crew: null,
        start,
        end,
        because: BECAUSE,
      })),
    ],
    days: daysOf(company, blocks, words.shiftEnds ?? {}),
    impossible: words.impossible ?? [],
    unkept: words.unkept ?? [],
    cost: {
      total:
        cost.lateDays * price.lateDay +
        cost.idleCrewHours * price.idleCrewHour +
        cost.moves * price.move +
        cost.changes * price.change +
        cost.openNights * price.openNight +
        cost.overtimeCrewHours * price.overtimeCrewHour,
      ...cost,
    },
  };
}

/** The rules that the checker finds broken, each once, in its order. */
export function brokenRules(company: Company, plan: Plan): RuleName[] {
  return [...new Set(checkPlan(company, plan).map((broken) => broken.rule))];
}

/** The same lines with some replaced; a line that is not there is a mistake in the test. */
export function swapLines(
  lines: readonly string[],
  swaps: Readonly<Record<string, string | readonly string[]>>,
): string[] {
  for (const line of Object.keys(swaps)) {
    if (!lines.includes(line)) throw new Error(`There is no line "${line}"`);
  }
  return lines.flatMap((line) => swaps[line] ?? line);
}

function toBlock(line: string): PlanBlock {
  const [crew, date, start, end, kind, job, task, units] = line.split(" ");
  const [first, last] = (units ?? "").split("-").map(Number);
  return {
    crew: present(crew, "crew"),
    // The kinds are checked by every test that uses the line.
    kind: present(kind, "kind") as PlanBlock["kind"],
    job: job ?? null,
    task: task ?? null,
    units: first === undefined || last === undefined ? null : [first, last],
    start: ny(present(date, "date"), present(start, "start")),
    end: ny(present(date, "date"), present(end, "end")),
  };
}

function entriesOf(blocks: readonly PlanBlock[]): PlanTask[] {
  const entries = new Map<string, PlanTask>();
  for (const { kind, job, task, crew, start, end } of blocks) {
    if (kind !== "work" || job === null || task === null) continue;
    const entry = entries.get(`${job} ${task}`) ?? { job, task, crew, start, end, because: BECAUSE };
    entries.set(`${job} ${task}`, {
      ...entry,
      start: start < entry.start ? start : entry.start,
      end: end > entry.end ? end : entry.end,
    });
  }
  return [...entries.values()];
}

function daysOf(
  company: Company,
  blocks: readonly PlanBlock[],
  shiftEnds: Readonly<Record<string, string>>,
): Plan["days"] {
  const days = new Map<string, Plan["days"][number]>();
  for (const block of blocks) {
    if (block.kind !== "work" || block.job === null) continue;
    const date = block.start.slice(0, 10);
    const crew = present(
      company.crews.find((crew) => crew.id === block.crew),
      "crew",
    );
    const job = present(
      company.jobs.find((job) => job.id === block.job),
      "job",
    );
    const light = lightOn(job.site, civilDate(date), ZONE, company.policy);
    const last = present(light.last, "last light");
    const usable = last - company.policy.lightMarginMinutes;
    const shiftEnd = present(
      parseInstant(ny(date, shiftEnds[`${crew.id} ${date}`] ?? "15:30"), ZONE),
      "shift end",
    );
    const cleanup = blocks
      .filter((other) => other.crew === block.crew && other.job === block.job && other.start.startsWith(date))
      .filter((other) => other.kind === "cleanup" || other.kind === "cover-up")
      .reduce((sum, other) => sum + (Date.parse(other.end) - Date.parse(other.start)) / 60_000, 0);
    days.set(`${crew.id} ${date} ${job.id}`, {
      crew: crew.id,
      date,
      job: job.id,
      firstLight: toIso(present(light.first, "first light"), ZONE),
      lastLight: toIso(last, ZONE),
      light: light.kind,
      toolsDown: toIso(Math.min(usable, shiftEnd) - cleanup, ZONE),
      lightInHandMinutes: usable - shiftEnd,
      stretch: crew.stretch.includes(date),
    });
  }
  return [...days.values()];
}
