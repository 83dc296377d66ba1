/** The form in which a dispatcher asks for something by hand: one kind, and the fields that it needs. */
import { fail, ok, type Result } from "../domain/result.js";
import { parseCivilDate } from "../domain/time.js";
import type { Wish } from "../planner/ways-out/wishes.js";
import type { DeskState } from "../services/desk.js";
import { textOf } from "./form-body.js";
import type { FormFault } from "./form-faults.js";

export const WISH_FIELDS = {
  "pin-crew": ["wishTask", "wishCrew"],
  "pin-day": ["wishTask", "wishDate"],
  "swap-crews": ["wishCrew", "wishOther", "wishDate"],
  "keep-crew": ["wishCrew"],
} as const satisfies Record<Wish["kind"], readonly string[]>;

const KINDS = ["pin-crew", "pin-day", "swap-crews", "keep-crew"] as const satisfies readonly Wish["kind"][];
const ALL_FIELDS = ["wishTask", "wishCrew", "wishOther", "wishDate"] as const;

export interface WishForm {
  readonly kind: Wish["kind"];
  readonly values: Readonly<Record<string, string>>;
}

/** Null where nothing is wished for. */
export function readWishForm(fields: unknown): WishForm | null {
  const named = textOf(fields, "wish");
  const kind = KINDS.find((known) => known === named);
  if (kind === undefined) return null;
  return { kind, values: Object.fromEntries(ALL_FIELDS.map((name) => [name, textOf(fields, name).trim()])) };
}

export function toWishFields(form: WishForm | null): readonly (readonly [string, string])[] {
  if (form === null) return [];
  const own: readonly string[] = WISH_FIELDS[form.kind];
  return [["wish", form.kind], ...own.map((name) => [name, form.values[name] ?? ""] as const)];
}

/** The wish, or what the form leaves open or names that is not there. */
export function parseWishForm(
  { kind, values }: WishForm,
  { company, today }: DeskState,
): Result<Wish, readonly FormFault[]> {
  const faults: FormFault[] = [];
  const wrong = (field: string, sentence: string): "" => {
    faults.push({ field, sentence });
    return "";
  };
  const crewIn = (name: string): string =>
    company.crews.find(({ id }) => id === values[name])?.id ?? wrong(name, "Choose a crew that there is.");
  const dateIn = (): string => {
    const date = parseCivilDate(values["wishDate"] ?? "");
    if (date === undefined) return wrong("wishDate", "Choose a day, written as year-month-day.");
    return date < today ? wrong("wishDate", "That day has gone by. Choose one from today on.") : date;
  };
  const taskIn = (): readonly [string, string] => {
    const [job = "", task = ""] = (values["wishTask"] ?? "").split("/");
    const found = company.jobs.find(({ id }) => id === job)?.tasks.find(({ id }) => id === task);
    if (found === undefined) wrong("wishTask", "Choose a task that there is.");
    else if (found.status === "done") wrong("wishTask", "That task is finished. Choose another one.");
    return [job, task];
  };
  const wish = ((): Wish => {
    switch (kind) {
      case "pin-crew": {
        const [job, task] = taskIn();
        return { kind, job, task, crew: crewIn("wishCrew") };
      }
      case "pin-day": {
        const [job, task] = taskIn();
        return { kind, job, task, date: toDate(dateIn(), today) };
      }
      case "swap-crews": {
        const crews = [crewIn("wishCrew"), crewIn("wishOther")] as const;
        if (crews[0] !== "" && crews[0] === crews[1]) wrong("wishOther", "Choose two different crews.");
        return { kind, crews, date: toDate(dateIn(), today) };
      }
      case "keep-crew":
        return { kind, crew: crewIn("wishCrew") };
    }
  })();
  return faults.length > 0 ? fail(faults) : ok(wish);
}

/** What is no date has been noted as a fault already. */
function toDate(text: string, otherwise: DeskState["today"]): DeskState["today"] {
  return parseCivilDate(text) ?? otherwise;
}
