/**
 * A plan for a terminal: each crew's next day in order, with its light and why each task starts when it does; then
 * what is impossible, what could not be kept of the published plan, and what the plan costs.
 */
import { buildCostView } from "../board/cost-view.js";
import { buildReading, instantOf, type DayBlock, type Reading } from "../board/reading.js";
import { bareClock, clock, duration, longDate } from "../board/spoken-time.js";
import type { Company, Crew } from "../domain/company-schema.js";
import type { Plan } from "../domain/plan-format.js";
import { civilDateAt, type CivilDate } from "../domain/time.js";

/** The whole text, ending in a line feed. */
export function writeNextDays(company: Company, plan: Plan): string {
  const reading = buildReading(company, plan);
  const asOf = instantOf(plan.asOf, reading.zone);
  const when = `${longDate(civilDateAt(asOf, reading.zone), "en")}, ${clock(asOf, reading.zone, "en")}`;
  const parts = [
    `${company.company.name}: plan as of ${when} (${reading.zone})`,
    ...company.crews.map((crew) => writeCrew(reading, crew)),
    ...writeImpossible(reading),
    ...writeUnkept(reading),
    writeCost(reading),
  ];
  return `${parts.join("\n\n")}\n`;
}

function writeCrew(reading: Reading, crew: Crew): string {
  const people = crew.size === 1 ? "1 person" : `${crew.size} people`;
  const kind = crew.kind === "sub" ? ", subcontractor" : "";
  const title = `${crew.name.toUpperCase()}  ${crew.lead}, ${people}${kind}`;
  const date = reading.datesOf(crew.id)[0];
  if (date === undefined) return `${title}\n  No work in this plan.`;
  const blocks = reading.dayOf(crew.id, date);
  const lines = blocks.flatMap((block) => writeBlock(reading, block));
  return [title, `  ${longDate(date, "en")}`, ...writeLight(reading, crew, date, blocks), ...lines].join(
    "\n",
  );
}

/** One line for each house of the day, in the order of the visits. */
function writeLight(
  reading: Reading,
  crew: Crew,
  date: CivilDate,
  blocks: readonly DayBlock[],
): readonly string[] {
  const visited = new Set(blocks.filter((block) => block.kind === "work").map((block) => block.job));
  return [...visited].flatMap((job) => {
    const day = job === null ? undefined : reading.lightOf(crew.id, date, job.id);
    if (job === null || day === undefined) return [];
    const zone = job.site.timeZone ?? reading.zone;
    const at = (iso: string | null): string | undefined =>
      iso === null ? undefined : clock(instantOf(iso, reading.zone), zone, "en");
    const facts = [
      ...labelled("first light", at(day.firstLight)),
      ...labelled("last light", at(day.lastLight)),
      ...(day.light === "all-day" ? ["light all day"] : []),
      ...(day.light === "none" ? ["no light that day"] : []),
      ...labelled("tools down", at(day.toolsDown)),
      ...(day.lightInHandMinutes === null ? [] : [writeLightInHand(day.lightInHandMinutes)]),
      ...(day.stretch ? ["stretch day"] : []),
    ];
    return [`  At ${job.name}: ${facts.join(", ")}.`];
  });
}

function labelled(label: string, time: string | undefined): readonly string[] {
  return time === undefined ? [] : [`${label} ${time}`];
}

function writeLightInHand(minutes: number): string {
  return minutes >= 0
    ? `${duration(minutes)} of light in hand`
    : `the dark takes ${duration(-minutes)} of the shift`;
}

function writeBlock(reading: Reading, block: DayBlock): readonly string[] {
  const times = `${bareClock(block.start, block.zone).padStart(5)}-${bareClock(block.end, block.zone).padEnd(5)}`;
  const line = `  ${times}  ${block.kind.padEnd(8)}  ${nameBlock(reading, block)}`.trimEnd();
  if (block.kind !== "work" || block.job === null || block.task === null) return [line];
  const planned = reading.planned(block.job.id, block.task.id);
  if (planned === undefined || planned.start !== block.start) return [line];
  return [line, `${" ".repeat(25)}${planned.because.text.en}`];
}

function nameBlock(reading: Reading, block: DayBlock): string {
  const { job, task, units } = block;
  if (job === null) return "";
  if (task === null) return block.kind === "travel" ? `to ${job.name}` : job.name;
  const stamp = reading.trades.get(task.trade ?? "")?.stamp ?? "";
  return `${stamp} ${task.title}${task.units > 1 && units !== null ? writeUnits(units, task.units) : ""}, ${job.name}`;
}

function writeUnits([first, last]: readonly [number, number], all: number): string {
  return first === last ? ` (unit ${first} of ${all})` : ` (units ${first} to ${last} of ${all})`;
}

function writeImpossible(reading: Reading): readonly string[] {
  const { impossible } = reading.plan;
  if (impossible.length === 0) return [];
  return [
    ["IMPOSSIBLE", ...impossible.map((item) => `  ${nameTask(reading, item)}: ${item.why}`)].join("\n"),
  ];
}

function writeUnkept(reading: Reading): readonly string[] {
  const { unkept } = reading.plan;
  if (unkept.length === 0) return [];
  const lines = unkept.map((item) => `  ${nameTask(reading, item)}: ${item.why}`);
  return [["PUBLISHED AND NOT KEPT", ...lines].join("\n")];
}

function nameTask(reading: Reading, ref: { readonly job: string; readonly task: string }): string {
  const job = reading.jobs.get(ref.job)?.name ?? ref.job;
  return `${reading.task(ref.job, ref.task)?.title ?? ref.task}, ${job}`;
}

function writeCost(reading: Reading): string {
  const { rows, total } = buildCostView(reading);
  const widest = Math.max(...rows.map((row) => row.label.length));
  const lines = rows.map(
    (row) =>
      `  ${row.label.padEnd(widest)}  ${row.amount.padStart(8)} x ${row.price.padStart(6)} = ${row.cost.padStart(9)}`,
  );
  return ["COST", ...lines, `  ${"Total".padEnd(widest)}  ${total.padStart(28)}`].join("\n");
}
