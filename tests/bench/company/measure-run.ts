/** Takes the measures of the company planner one after another, each in a fresh process, with nothing beside it. */
import { besides } from "../places.js";
import { askProcesses } from "../process-pool.js";
import { toUncounted, type Figure, type Measure, type MeasureMessage, type Measured } from "./measure.js";

export interface TakenMeasure extends Figure {
  readonly name: string;
  readonly measured: Measured;
  readonly met: boolean;
}

/** One for each figure. */
export async function takeMeasure(name: string, { figures }: Measure): Promise<readonly TakenMeasure[]> {
  const [answer = []] = await askProcesses(
    besides("company/measure-worker.js"),
    1,
    [{ name } satisfies MeasureMessage],
    // What measure-worker.ts sends.
    (reply) => reply as readonly Measured[],
    (_, why) => figures.map(() => toUncounted(why)),
  );
  return figures.map((figure, place) => {
    const measured = answer[place] ?? toUncounted("it was not answered");
    return { ...figure, name, measured, met: isMet(measured, figure.bar) };
  });
}

/** A figure with a fault never meets its bar. */
export function isMet({ value, faults }: Measured, bar: Figure["bar"]): boolean {
  if (value === undefined || faults.length > 0) return false;
  return bar.kind === "at most" ? value <= bar.value : value >= bar.value;
}
