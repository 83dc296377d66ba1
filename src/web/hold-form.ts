/**
 * The form of a hold: what was typed, kept as typed, and what it asks for. What a hold may be is the company
 * file's to say; here only what the form itself leaves open is a fault.
 */
import type { Hold } from "../domain/company-schema.js";
import { fail, ok, type Result } from "../domain/result.js";
import { parseInstant } from "../domain/time.js";
import { toWallText } from "../domain/wall-text.js";
import type { HoldInput } from "../services/desk.js";
import { listOf, textOf } from "./form-body.js";
import type { FormFault } from "./form-faults.js";

/** What stands in the fields. */
export interface HoldForm {
  readonly from: string;
  readonly to: string;
  /** "outdoor", "all" or "some" (then `someTrades`). */
  readonly trades: string;
  readonly someTrades: readonly string[];
  /** "all" or "some" (then `someJobs`). */
  readonly jobs: string;
  readonly someJobs: readonly string[];
  readonly why: string;
}

/** Fields beside which a fault can stand. */
export const HOLD_FIELDS = ["from", "to", "trades", "jobs", "why", "reason"] as const;

export const EMPTY_HOLD_FORM: HoldForm = {
  from: "",
  to: "",
  trades: "outdoor",
  someTrades: [],
  jobs: "all",
  someJobs: [],
  why: "",
};

/** The form as it was sent; a field that is missing or no text is empty. */
export function readHoldForm(body: unknown): HoldForm {
  return {
    from: textOf(body, "from").trim(),
    to: textOf(body, "to").trim(),
    trades: textOf(body, "trades"),
    someTrades: listOf(body, "trade"),
    jobs: textOf(body, "jobs"),
    someJobs: listOf(body, "job"),
    why: textOf(body, "why").trim(),
  };
}

/** The form that a hold fills; times by the wall clock of the company's zone. */
export function toHoldForm(hold: Hold, zone: string): HoldForm {
  const { trades, jobs, why } = hold;
  return {
    from: toFieldTime(hold.from, zone),
    to: toFieldTime(hold.to, zone),
    trades: typeof trades === "string" ? trades : "some",
    someTrades: typeof trades === "string" ? [] : trades,
    jobs: typeof jobs === "string" ? jobs : "some",
    someJobs: typeof jobs === "string" ? [] : jobs,
    why,
  };
}

function toFieldTime(text: string, zone: string): string {
  const minute = parseInstant(text, zone);
  return minute === undefined ? text : toWallText(minute, zone);
}

/** The hold that a form asks for, or everything that the form leaves open. */
export function parseHoldForm(form: HoldForm): Result<HoldInput, readonly FormFault[]> {
  const faults: FormFault[] = [];
  if (form.from === "")
    faults.push({ field: "from", sentence: "Say when the hold begins: a date and a time." });
  if (form.to === "") faults.push({ field: "to", sentence: "Say when the hold ends: a date and a time." });
  const trades = chosenTrades(form);
  if (trades === undefined) {
    faults.push({
      field: "trades",
      sentence: "Say which work is held: outdoor work, all work, or at least one trade.",
    });
  }
  const jobs = chosenJobs(form);
  if (jobs === undefined) {
    faults.push({ field: "jobs", sentence: "Say which houses are held: every house, or at least one." });
  }
  if (trades === undefined || jobs === undefined || faults.length > 0) return fail(faults);
  return ok({ from: form.from, to: form.to, trades, jobs, why: form.why });
}

function chosenTrades(form: HoldForm): HoldInput["trades"] | undefined {
  if (form.trades === "outdoor" || form.trades === "all") return form.trades;
  return form.trades === "some" && form.someTrades.length > 0 ? form.someTrades : undefined;
}

function chosenJobs(form: HoldForm): HoldInput["jobs"] | undefined {
  if (form.jobs === "all") return form.jobs;
  return form.jobs === "some" && form.someJobs.length > 0 ? form.someJobs : undefined;
}
