/**
 * One step of a ready-made sequence for one area of a house. Hours are labor-hours for one unit, as a published or usual
 * range; a crew's own log is better than either. `after` names steps of the same sequence.
 */
import { lagHoursOf, type Confidence, type CureId } from "./cures.js";
import type { Text } from "./plan-format.js";
import type { TradeId } from "./trade-catalogue.js";

interface StepBase {
  readonly id: string;
  readonly title: Text;
  readonly after: readonly { readonly step: string; readonly lagHours: number }[];
  /** Why the step stands where it stands. */
  readonly reason: Text;
}

export interface WorkStep extends StepBase {
  readonly kind: "work";
  readonly trade: TradeId;
  /** What is counted: a window, 100 sq ft, a foot. */
  readonly unit: Text;
  readonly lowHours: number;
  readonly highHours: number;
  readonly confidence: Confidence;
  /** The wall is open from an `opens` step to the `closes` step that follows it. */
  readonly opens: boolean;
  readonly closes: boolean;
}

export interface WaitStep extends StepBase {
  readonly kind: "wait";
  readonly waitBusinessDays: number;
}

export type SequenceStep = WorkStep | WaitStep;

export interface TradeSequence {
  readonly id: string;
  readonly name: Text;
  readonly steps: readonly SequenceStep[];
}

/** What steps are counted in. */
export const units = {
  square: { en: "100 sq ft", es: "100 pies²" },
  squareFoot: { en: "sq ft", es: "pie²" },
  foot: { en: "foot", es: "pie" },
  sheet: { en: "4×8 sheet", es: "hoja de 4×8" },
  window: { en: "window", es: "ventana" },
  block: { en: "block", es: "bloque" },
} as const satisfies Readonly<Record<string, Text>>;

/** A link to a step that must be done, with the lag that a cure asks for. */
export function following(step: string, cure?: CureId): { readonly step: string; readonly lagHours: number } {
  return { step, lagHours: cure === undefined ? 0 : lagHoursOf(cure) };
}
