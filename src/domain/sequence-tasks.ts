/**
 * A ready-made sequence turned into the tasks of a company file, for one area of a job.
 */
import type { CompanyInput } from "./company-schema.js";
import type { SequenceStep, TradeSequence } from "./sequence-step.js";

type TaskInput = NonNullable<NonNullable<CompanyInput["jobs"]>[number]["tasks"]>[number];

/** How one sequence is laid out. */
export interface SequenceOrder {
  /** Put before each step's id, so that two areas of a job do not share ids: `front` → `front-strip`. */
  readonly prefix: string;
  readonly area: string;
  readonly language: "en" | "es";
  /** How much of each step there is, in the step's own unit; a work step that is left out or 0 is not made. */
  readonly amounts: Readonly<Record<string, number>>;
  /** 0 takes the low end of the hours, 1 the high end. */
  readonly difficulty: number;
}

/**
 * The tasks, in order. A step that is not made hands its own predecessors on to what follows it, with the longer lag.
 * Labor-hours are rounded to quarter hours, at least one. `units` is set on no task: how an opened wall is cut into
 * pieces is the estimator's to say.
 */
export function toTasks(sequence: TradeSequence, order: SequenceOrder): readonly TaskInput[] {
  const made = new Map(sequence.steps.map((step) => [step.id, isMade(step, order)]));
  return sequence.steps
    .filter((step) => made.get(step.id))
    .map((step) => {
      const after = listMadeBefore(sequence, step, made).map(({ step: id, lagHours }) => ({
        task: `${order.prefix}-${id}`,
        lagHours,
      }));
      const base = {
        id: `${order.prefix}-${step.id}`,
        title: step.title[order.language],
        area: order.area,
        after,
      };
      return step.kind === "wait"
        ? { ...base, trade: null, waitBusinessDays: step.waitBusinessDays }
        : {
            ...base,
            trade: step.trade,
            laborHours: quarters(
              (order.amounts[step.id] ?? 0) *
                (step.lowHours + (step.highHours - step.lowHours) * order.difficulty),
            ),
            opens: step.opens,
            closes: step.closes,
          };
    });
}

function isMade(step: SequenceStep, order: SequenceOrder): boolean {
  return step.kind === "wait" || (order.amounts[step.id] ?? 0) > 0;
}

function quarters(hours: number): number {
  return Math.max(0.25, Math.round(hours * 4) / 4);
}

function listMadeBefore(
  sequence: TradeSequence,
  step: SequenceStep,
  made: ReadonlyMap<string, boolean>,
): readonly { readonly step: string; readonly lagHours: number }[] {
  const longest = new Map<string, number>();
  for (const link of step.after) {
    const before = sequence.steps.find((candidate) => candidate.id === link.step);
    if (!before) continue;
    const links = made.get(before.id)
      ? [link]
      : listMadeBefore(sequence, before, made).map((earlier) => ({
          step: earlier.step,
          lagHours: Math.max(earlier.lagHours, link.lagHours),
        }));
    for (const { step: id, lagHours } of links) longest.set(id, Math.max(lagHours, longest.get(id) ?? 0));
  }
  return [...longest].map(([id, lagHours]) => ({ step: id, lagHours }));
}
