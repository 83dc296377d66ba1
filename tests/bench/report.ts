/** What the bench prints: a table of the published sets, one of the company planner, and every fault in full. */
import type { TakenMeasure } from "./company/measure-run.js";
import type { BudgetWithBar } from "./published-sets.js";
import type { SetScore } from "./score.js";
import { toText, toTextTable, type Column } from "./text-table.js";

const left = (title: string): Column => ({ title, align: "left" });
const right = (title: string): Column => ({ title, align: "right" });

const SET_COLUMNS = [
  left("set"),
  right("instances"),
  left("budget"),
  right("mean %"),
  left("above"),
  right("worst %"),
  left("worst at"),
  right("best known hit"),
  right("bar %"),
  left("met?"),
  right("s each"),
];

/** Faults listed in full; more are counted. */
const MOST_FAULTS = 20;

export function formatSets(scores: readonly SetScore[]): string {
  return toTextTable(SET_COLUMNS, scores.map(toRow));
}

function toRow(score: SetScore): readonly string[] {
  const { answers, available, run, meanPercent, worst, improved } = score;
  return [
    score.set,
    answers.length === available ? String(available) : `${answers.length} of ${available}`,
    formatBudget(run),
    meanPercent === undefined ? "" : toText(meanPercent, 3),
    score.reference === "critical-path" ? "critical path" : "best known",
    worst?.percent === undefined ? "" : toText(worst.percent, 2),
    worst?.instance ?? "",
    improved > 0 ? `${score.hits} (${improved} better)` : String(score.hits),
    run.barPercent === undefined ? "" : String(run.barPercent),
    formatMet(score),
    toText(score.secondsEach, 2),
  ];
}

export function formatBudget({ budget }: BudgetWithBar): string {
  return budget.kind === "schedules"
    ? `${toText(budget.schedules, 0)} schedules`
    : `${String(budget.seconds)} s`;
}

function formatMet({ met, refused, answers, available }: SetScore): string {
  return [
    ...(met === undefined ? [] : [met ? "yes" : "no"]),
    ...(met !== undefined && answers.length < available ? ["(sample)"] : []),
    ...(refused > 0 ? [`(${refused} refused)`] : []),
  ].join(" ");
}

const MEASURE_COLUMNS = [left("company planner"), right("figure"), left("bar"), left("met?"), left("more")];

export function formatMeasures(taken: readonly TakenMeasure[]): string {
  return toTextTable(
    MEASURE_COLUMNS,
    taken.map(({ what, unit, digits, bar, measured, met }) => [
      what,
      measured.value === undefined ? "none" : `${toText(measured.value, digits)} ${unit}`.trim(),
      `${bar.kind} ${toText(bar.value, digits)}`,
      met ? "yes" : "no",
      measured.more,
    ]),
  );
}

/** One line for each answer or figure that does not count. */
export function listFaults(scores: readonly SetScore[], taken: readonly TakenMeasure[]): readonly string[] {
  return [
    ...scores.flatMap(({ set, run, answers }) =>
      answers.flatMap(({ instance, faults }) =>
        faults.length === 0 ? [] : [`${set}, ${formatBudget(run)}, ${instance}: ${shorten(faults)}`],
      ),
    ),
    ...taken.flatMap(({ name, measured }) =>
      measured.faults.length === 0 ? [] : [`${name}: ${shorten(measured.faults)}`],
    ),
  ];
}

export function formatFaults(faults: readonly string[]): string {
  const more = faults.length - MOST_FAULTS;
  return [
    `${faults.length} answers do not count:`,
    ...faults.slice(0, MOST_FAULTS).map((fault) => `  ${fault}`),
    ...(more > 0 ? [`  and ${more} more, all in the JSON`] : []),
  ].join("\n");
}

function shorten([first = "", ...rest]: readonly string[]): string {
  return rest.length > 0 ? `${first} (and ${rest.length} more)` : first;
}
