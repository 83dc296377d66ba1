/** Takes the measures of the company planner one after another, each in a fresh process, with nothing beside it. */
import { besides } from "../places.js";
import { askProcesses } from "../process-pool.js";
import { toUncounted, type Measure, type MeasureMessage, type Measured } from "./measure.js";

export interface TakenMeasure {
  readonly name: string;
  readonly what: string;
  readonly unit: string;
  readonly digits: number;
  readonly bar: Measure["bar"];
  readonly measured: Measured;
  readonly met: boolean;
}

export async function takeMeasure(name: string, measure: Measure): Promise<TakenMeasure> {
  const [measured = toUncounted("it was not answered")] = await askProcesses(
    besides("company/measure-worker.js"),
    1,
    [{ name } satisfies MeasureMessage],
    // What measure-worker.ts sends.
    (reply) => reply as Measured,
    (_, why) => toUncounted(why),
  );
  const { what, unit, digits, bar } = measure;
  return { name, what, unit, digits, bar, measured, met: isMet(measured, bar) };
}

/** A figure with a fault never meets its bar. */
export function isMet({ value, faults }: Measured, bar: Measure["bar"]): boolean {
  if (value === undefined || faults.length > 0) return false;
  return bar.kind === "at most" ? value <= bar.value : value >= bar.value;
}
