/** The crews as the office reads them: who they are, what they do, and when they are off. */
import type { Company, Crew } from "../domain/company-schema.js";
import { civilDate, type CivilDate } from "../domain/time.js";
import { longDate, OTHER_LANGUAGE, shortDate, type Language } from "./spoken-time.js";

const LANGUAGE_NAMES = { en: "English", es: "Spanish" } as const satisfies Record<Language, string>;

export interface CrewLineView {
  readonly id: string;
  readonly name: string;
  /** "Noor and 2 more". */
  readonly who: string;
  /** "own crew", "subcontractor". */
  readonly kind: string;
  readonly trades: string;
  /** What it reads now, and what it may be switched to. */
  readonly language: string;
  readonly other: { readonly language: Language; readonly name: string };
  /** Days off that are not over, in order; "none" where there are none. */
  readonly off: string;
}

export interface DayOffView {
  /** As written, for the form that takes it away. */
  readonly from: string;
  readonly to: string;
  readonly why: string;
  /** "Thu 24 Dec to Sat 26 Dec", "Thursday 24 December". */
  readonly days: string;
  readonly isPast: boolean;
}

export interface CrewOffView {
  readonly id: string;
  readonly name: string;
  readonly who: string;
  /** What is to come first, what is over last. */
  readonly off: readonly DayOffView[];
}

/** In the order of the file. */
export function listCrewLines(company: Company, today: CivilDate): readonly CrewLineView[] {
  return company.crews.map((crew) => ({
    id: crew.id,
    name: crew.name,
    who: whoText(crew),
    kind: crew.kind === "own" ? "own crew" : "subcontractor",
    trades: company.trades
      .filter(({ id }) => Object.hasOwn(crew.trades, id))
      .map(({ name }) => name.en)
      .join(", "),
    language: LANGUAGE_NAMES[crew.language],
    other: {
      language: OTHER_LANGUAGE[crew.language],
      name: LANGUAGE_NAMES[OTHER_LANGUAGE[crew.language]],
    },
    off:
      listDaysOff(crew, today)
        .filter(({ isPast }) => !isPast)
        .map(({ days }) => days)
        .join("; ") || "none",
  }));
}

/** One crew with its days off. */
export function buildCrewOffView(crew: Crew, today: CivilDate): CrewOffView {
  return { id: crew.id, name: crew.name, who: whoText(crew), off: listDaysOff(crew, today) };
}

function listDaysOff(crew: Crew, today: CivilDate): readonly DayOffView[] {
  return crew.off
    .map(({ from, to, why }) => ({ from, to, why, days: daysText(from, to), isPast: to < today }))
    .sort((a, b) => Number(a.isPast) - Number(b.isPast) || (a.from < b.from ? -1 : 1));
}

function daysText(from: string, to: string): string {
  if (from === to) return longDate(civilDate(from), "en");
  return `${shortDate(civilDate(from), "en")} to ${shortDate(civilDate(to), "en")}`;
}

function whoText({ lead, size }: Crew): string {
  return size > 1 ? `${lead} and ${size - 1} more` : lead;
}
