/**
 * Ways out side by side: the same rows for each, in finished words. What is best in a row is marked, where the ways differ
 * in it; what a way uses is told in crew-hours and names.
 */
import type { Company } from "../domain/company-schema.js";
import type { CivilDate } from "../domain/time.js";
import type { PromiseChange } from "../planner/ways-out/plan-difference.js";
import type { PermissionUse, WayFigures, WayOut } from "../planner/ways-out/way-out.js";
import { taskTitle } from "./board-tags.js";
import { shortDate } from "./spoken-time.js";
import { wayName } from "./way-words.js";

/** What a view needs of a way. */
export type ListedWay = Pick<
  WayOut,
  "key" | "kinds" | "permissionsUsed" | "crewHoursGained" | "crewHoursUsed" | "difference" | "figures"
>;

export interface WayCell {
  readonly text: string;
  /** Houses and the like, one on a line. */
  readonly lines: readonly string[];
  readonly isBest: boolean;
  readonly needsAttention: boolean;
}

export interface WayRow {
  readonly label: string;
  /** One for each way, in their order. */
  readonly cells: readonly WayCell[];
}

export interface WayHead {
  readonly key: string;
  readonly name: string;
}

export interface WaysTable {
  readonly ways: readonly WayHead[];
  readonly rows: readonly WayRow[];
}

/** Of more houses only how many more. */
const MOST_LINES = 6;

/** The table of ways; they are of the company with the slip in it. */
export function buildWaysTable(company: Company, ways: readonly ListedWay[]): WaysTable {
  const rowOf = (name: keyof WayFigures, label: string, say = whole, isMore = false): WayRow => {
    const values = ways.map(({ figures }) => figures[name]);
    const best = isMore ? Math.max(...values) : Math.min(...values);
    const differs = values.some((value) => Math.abs(value - best) > 1e-6);
    return {
      label,
      cells: values.map((value) => ({
        text: say(value),
        lines: [],
        isBest: differs && Math.abs(value - best) <= 1e-6,
        needsAttention: false,
      })),
    };
  };
  const withHouses = (row: WayRow, kind: PromiseChange["kind"], isBad: boolean): WayRow => ({
    ...row,
    cells: row.cells.map((cell, place) => {
      const lines = (ways[place]?.difference.promises ?? [])
        .filter((one) => one.kind === kind)
        .map((one) => promiseLine(company, one));
      return { ...cell, lines: shorten(lines), needsAttention: isBad && lines.length > 0 };
    }),
  });
  const calls = rowOf("calls", "Calls to make");
  const leftOut = ways.some(({ figures }) => figures.leftOut > 0)
    ? [rowOf("leftOut", "Tasks that cannot be planned")]
    : [];
  return {
    ways: ways.map((way) => ({ key: way.key, name: wayName(way) })),
    rows: [
      withHouses(rowOf("promisesBroken", "Promised dates broken"), "broken", true),
      withHouses(rowOf("promisesSaved", "Promised dates saved", whole, true), "saved", false),
      rowOf("lateDays", "Days late, all houses"),
      rowOf("tasksMoved", "Tasks moved"),
      rowOf("idleCrewHours", "Idle crew-hours", tenths),
      rowOf("overtimeCrewHours", "Overtime crew-hours", tenths),
      rowOf("moves", "Moves away from unfinished work"),
      rowOf("openNights", "Nights with a wall open"),
      // Where nothing is published, nobody has been told a date yet.
      company.published === null ? { ...calls, cells: calls.cells.map(toNoCalls) } : calls,
      ...leftOut,
      rowOf("cost", "Cost"),
      { label: "What it uses", cells: ways.map((way) => usesCell(company, way)) },
    ],
  };
}

function toNoCalls(cell: WayCell): WayCell {
  return { ...cell, text: "0", lines: ["nothing is published yet"], isBest: false };
}

function usesCell(company: Company, way: ListedWay): WayCell {
  const lines = listUses(company, way.permissionsUsed);
  const text = lines.length === 0 ? "nothing" : "";
  return { text, lines, isBest: false, needsAttention: false };
}

/** "Stretch Tue 8 Dec, Wed 9 Dec: 2.1 crew-hours of light, 1.4 worked". */
export function listUses(company: Company, uses: readonly PermissionUse[]): readonly string[] {
  const crewName = (id: string): string => company.crews.find((crew) => crew.id === id)?.name ?? id;
  const longer = (kind: "stretch" | "saturday"): string[] => {
    const own = uses.flatMap((use) => (use.kind !== "lend" && use.kind === kind ? [use] : []));
    if (own.length === 0) return [];
    const dates = [...new Set(own.map(({ date }): CivilDate => date))].sort();
    const crews = [...new Set(own.map(({ crew }) => crewName(crew)))];
    const sum = (name: "minutes" | "usedMinutes"): string =>
      tenths(own.reduce((total, use) => total + use[name], 0) / 60);
    const days = dates.map((date) => shortDate(date, "en")).join(", ");
    const gives = kind === "stretch" ? "crew-hours of light" : "crew-hours";
    const what = kind === "stretch" ? "Stretch" : "Extra day";
    return [
      `${what} ${days}: ${sum("minutes")} ${gives}, ${sum("usedMinutes")} worked (${crews.join(", ")})`,
    ];
  };
  const lent = uses
    .filter((use) => use.kind === "lend")
    .map(({ job, task, from, to }) => {
      const house = company.jobs.find(({ id }) => id === job);
      const facts = house?.tasks.find(({ id }) => id === task);
      const what = facts === undefined ? task : taskTitle(facts.title, facts.area);
      return `${crewName(to)} for ${crewName(from)}: ${what} at ${house?.name ?? job}`;
    });
  return [...longer("stretch"), ...longer("saturday"), ...shorten(lent)];
}

/** "14 Spruce Lane, 3 days late". */
export function promiseLine(company: Company, { job, lateAfter, lateBefore }: PromiseChange): string {
  const name = company.jobs.find(({ id }) => id === job)?.name ?? job;
  if (lateAfter === null) return `${name}, no end in sight`;
  if (lateAfter > 0) return `${name}, ${days(lateAfter)} late`;
  return lateBefore === null ? `${name}, had no end in sight` : `${name}, was ${days(lateBefore)} late`;
}

function shorten(lines: readonly string[]): readonly string[] {
  const more = lines.length - MOST_LINES;
  return more <= 1 ? lines : [...lines.slice(0, MOST_LINES), `and ${more} more`];
}

function days(count: number): string {
  return `${count} day${count === 1 ? "" : "s"}`;
}

function whole(value: number): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: 0 });
}

function tenths(value: number): string {
  return value.toLocaleString("en-US", { maximumFractionDigits: 1 });
}

const COST_LABELS = {
  cost: "cost",
  promisesBroken: "promised dates broken",
  promisesSaved: "promised dates saved",
  lateDays: "days late",
  tasksMoved: "tasks moved",
  idleCrewHours: "idle crew-hours",
  overtimeCrewHours: "overtime crew-hours",
  moves: "moves away from unfinished work",
  openNights: "nights with a wall open",
  calls: "calls to make",
  leftOut: "tasks that cannot be planned",
} as const satisfies Record<keyof WayFigures, string>;

/** What a wish costs against the same without it, figure by figure: "cost: 420 more", "tasks moved: 2 fewer". */
export function listWishCosts(costs: WayFigures): readonly string[] {
  return Object.entries(COST_LABELS).flatMap(([name, label]) => {
    // Proof of the cast: the names are those of the table above.
    // oxlint-disable-next-line typescript/no-unsafe-type-assertion
    const value = costs[name as keyof WayFigures];
    const amount = name.endsWith("Hours") ? tenths(Math.abs(value)) : whole(Math.abs(value));
    if (amount === "0") return [];
    const more = value > 0 ? "more" : name === "cost" ? "less" : "fewer";
    return [`${label}: ${amount} ${more}`];
  });
}
