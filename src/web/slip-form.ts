/**
 * The forms in which a slip is reported: one for each kind, of at most three fields. What was typed stays text, and is read
 * anew each time that it comes back; nothing of it is kept here.
 */
import { findBegunByPlan } from "../board/begun-by-plan.js";
import { fail, ok, type Result } from "../domain/result.js";
import { addDays, parseCivilDate } from "../domain/time.js";
import type { DeskState } from "../services/desk.js";
import { SLIP_KINDS, type Slip, type SlipKind } from "../services/slip.js";
import { textOf } from "./form-body.js";
import type { FormFault } from "./form-faults.js";
import { parseHours } from "./job-forms.js";
import { readingOf } from "./reading-of.js";

/** The fields of each kind, besides the kind. */
export const SLIP_FIELDS = {
  "hours-added": ["task", "how", "hours"],
  "day-off-added": ["crew", "from", "to"],
  "delivery-changed": ["delivery", "expected"],
  "hold-added": ["from", "to", "why"],
  "task-added": ["place", "trade", "hours"],
  "promise-moved": ["job", "promised"],
  "job-paused": ["job", "until"],
} as const satisfies Record<SlipKind, readonly string[]>;

export interface SlipForm {
  readonly kind: SlipKind;
  /** What was typed, by field; of another kind's fields nothing. */
  readonly values: Readonly<Record<string, string>>;
}

/** The slip that a form or an address speaks of; null where it names none. */
export function readSlipForm(fields: unknown): SlipForm | null {
  const named = textOf(fields, "slip");
  const kind = SLIP_KINDS.find((known) => known === named);
  if (kind === undefined) return null;
  return {
    kind,
    values: Object.fromEntries(SLIP_FIELDS[kind].map((name) => [name, textOf(fields, name).trim()])),
  };
}

/** What a form carries of a slip, as fields of another form or an address. */
export function toSlipFields(form: SlipForm | null): readonly (readonly [string, string])[] {
  return form === null ? [] : [["slip", form.kind], ...Object.entries(form.values)];
}

/** The slip, or what the form leaves open. Whether it can be is for the change itself to say. */
export function parseSlipForm(form: SlipForm, state: DeskState): Result<Slip, readonly FormFault[]> {
  const read = new FieldReader(form.values);
  const slip = PARSERS[form.kind](read, state);
  return slip === undefined || read.faults.length > 0 ? fail(read.faults) : ok(slip);
}

type Parser = (read: FieldReader, state: DeskState) => Slip | undefined;

const PARSERS = {
  "hours-added": (read, state) => {
    const [job, task] = read.pair("task", "Choose the task that takes longer.");
    const half = read.text("how") === "half";
    const hours = half ? 0 : read.hours("hours", "Say how many labor-hours come on top.");
    return {
      kind: "hours-added",
      job,
      task,
      how: half ? { kind: "half-left" } : { kind: "more", hours },
      begun: findBegunByPlan(readingOf(state), job, task, state.nowMinute),
    };
  },
  "day-off-added": (read) => {
    const crew = read.chosen("crew", "Choose the crew that is out.");
    const from = read.date("from", "Say on which day the crew is out first.");
    // One day is the usual case.
    const to = read.text("to") === "" ? from : read.date("to", "");
    return { kind: "day-off-added", crew, input: { from, to, why: "out" } };
  },
  "delivery-changed": (read) => {
    const [job, delivery] = read.pair("delivery", "Choose the delivery that has moved.");
    const expected = read.date("expected", "Say on which day it is expected now.");
    return { kind: "delivery-changed", job, delivery, expected, received: false };
  },
  "hold-added": (read) => {
    const from = read.date("from", "Say on which day the hold begins.");
    const last = read.text("to") === "" ? from : read.date("to", "");
    const why = read.chosen("why", "Say why work is held: rain, wind, a closed street.");
    const end = parseCivilDate(last);
    if (end !== undefined && end < from) {
      read.faults.push({ field: "to", sentence: "The hold ends before it begins. Write a later last day." });
    }
    const input = {
      from: `${from}T00:00`,
      to: end === undefined ? last : `${addDays(end, 1)}T00:00`,
      trades: "outdoor",
      jobs: "all",
      why,
    } as const;
    return { kind: "hold-added", input };
  },
  "task-added": (read) => {
    const place = /^(before|after):(.*)$/s.exec(read.text("place"));
    const [job, beside] = read.pairIn("place", place?.[2] ?? "", "Choose where in the order it comes.");
    const trade = read.chosen("trade", "Choose what kind of work it is.");
    const laborHours = read.hours("hours", "Say how many labor-hours it needs.");
    const side = place?.[1] === "before" ? "before" : "after";
    return { kind: "task-added", job, beside, place: side, trade, laborHours };
  },
  "promise-moved": (read) => {
    const job = read.chosen("job", "Choose the house.");
    return { kind: "promise-moved", job, promised: read.date("promised", "Say which date is promised now.") };
  },
  "job-paused": (read) => {
    const job = read.chosen("job", "Choose the house.");
    return { kind: "job-paused", job, until: read.date("until", "Say on which day work may go on there.") };
  },
} as const satisfies Record<SlipKind, Parser>;

/** Reads fields, and notes what is wrong with them. What is at fault reads as something harmless. */
class FieldReader {
  readonly faults: FormFault[] = [];

  constructor(private readonly values: SlipForm["values"]) {}

  text(name: string): string {
    return this.values[name] ?? "";
  }

  chosen(name: string, missing: string): string {
    const text = this.text(name);
    if (text === "") this.faults.push({ field: name, sentence: missing });
    return text;
  }

  date(name: string, missing: string): string {
    const text = this.chosen(name, missing);
    if (text !== "" && parseCivilDate(text) === undefined) {
      const sentence = `"${text.slice(0, 40)}" is no date. Write it as year-month-day, such as 2027-03-16.`;
      this.faults.push({ field: name, sentence });
    }
    return text;
  }

  hours(name: string, missing: string): number {
    const text = this.chosen(name, missing);
    const hours = parseHours(text);
    if (hours === undefined) {
      const sentence = `"${text.slice(0, 40)}" is no number of hours. Write one above 0, such as 6 or 4.5.`;
      this.faults.push({ field: name, sentence });
    }
    return hours ?? 0;
  }

  pair(name: string, missing: string): readonly [string, string] {
    return this.pairIn(name, this.text(name), missing);
  }

  /** Two ids with a slash between them. */
  pairIn(name: string, text: string, missing: string): readonly [string, string] {
    const [first = "", second = "", ...more] = text.split("/");
    if (first !== "" && second !== "" && more.length === 0) return [first, second];
    this.faults.push({ field: name, sentence: missing });
    return ["", ""];
  }
}
