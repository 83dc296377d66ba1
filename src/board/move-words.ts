/**
 * Moves by hand in words: why work stays where it is, which rule forbids a wish, and where something goes.
 */
import type { Company } from "../domain/company-schema.js";
import type { BecauseKind } from "../domain/plan-format.js";
import type { CivilDate } from "../domain/time.js";
import type { HeldBack, HeldWork, MovePlace, MoveRefusal, MoveWish } from "../planner/moving/move-refusal.js";
import { taskTitle } from "./board-tags.js";
import { endDayAndClock, longDate, shortDate } from "./spoken-time.js";

/** What sentences need of a company. */
export class MoveNames {
  constructor(private readonly company: Company) {}

  crew(id: string | null): string {
    return this.company.crews.find((crew) => crew.id === id)?.name ?? id ?? "nobody";
  }

  house(id: string): string {
    return this.company.jobs.find((job) => job.id === id)?.name ?? id;
  }

  /** "Trim, left side". */
  title(jobId: string, id: string): string {
    const task = this.company.jobs.find((job) => job.id === jobId)?.tasks.find((one) => one.id === id);
    return task === undefined ? id : taskTitle(task.title, task.area);
  }

  trade(id: string): string {
    return this.company.trades.find((trade) => trade.id === id)?.name.en ?? id;
  }

  get zone(): string {
    return this.company.company.timeZone;
  }
}

/** Why a piece of work cannot be picked up. */
export function sayHeld(names: MoveNames, held: HeldWork): string {
  switch (held.kind) {
    case "done":
      return "It is done.";
    case "wait":
      return "It is a wait, which no crew works.";
    case "under-way":
      return `It is under way with ${names.crew(held.crew)}, and what is begun stays with its crew and comes first.`;
    case "sheet-held":
      return (
        `It is on the published day sheet of ${names.crew(held.crew)} for ${shortDate(held.date, "en")}, which is held. ` +
        "Release that sheet first."
      );
  }
}

/** Which rule forbids a wish; one or two finished sentences. */
export function sayMoveRefusal(company: Company, wish: MoveWish, refusal: MoveRefusal): string {
  const names = new MoveNames(company);
  const crew = names.crew(wish.crew);
  const what = (one: { readonly job: string; readonly task: string }): string =>
    `"${names.title(one.job, one.task)}"${one.job === wish.job ? "" : ` at ${names.house(one.job)}`}`;
  switch (refusal.kind) {
    case "done":
    case "wait":
    case "under-way":
    case "sheet-held":
      return sayHeld(names, refusal);
    case "no-such-task":
      return "There is no such task any more. Open the board again.";
    case "no-such-crew":
      return `There is no crew "${refusal.crew}" any more. Choose another one.`;
    case "not-planned":
      return "It is in no plan at the moment; its house says why.";
    case "past":
      return `${longDate(refusal.date, "en")} has gone by. Choose a day from today on.`;
    case "lacks-trade": {
      const able = refusal.able.map((id) => names.crew(id)).join(", ");
      return `${crew} does not do ${names.trade(refusal.trade).toLowerCase()}. ${able === "" ? "No crew does." : `Crews that do: ${able}.`}`;
    }
    case "too-small":
      return `${crew} has ${count(refusal.size)}, and this needs at least ${refusal.least}.`;
    case "crew-off":
      return `${crew} is off on ${longDate(refusal.date, "en")}${refusal.why === "" ? "" : ` (${refusal.why})`}.`;
    case "no-shift":
      return `${crew} has no shift on ${longDate(refusal.date, "en")}.`;
    case "comes-after":
      return `It comes after ${what(refusal)}, and that lets it start no earlier than ${endDayAndClock(refusal.end, names.zone, "en")}.`;
    case "not-then":
      return (
        `${crew} cannot begin it on ${longDate(wish.date, "en")}: it would start on ${longDate(refusal.start, "en")}` +
        `${refusal.crew === wish.crew ? "" : ` with ${names.crew(refusal.crew)}`}. ${sayHeldBack(refusal)}`
      ).trim();
    case "not-there":
      return `It cannot stand there beside ${what(refusal)}. ${sayHeldBack(refusal)}`.trim();
    case "together":
      return `It is worked together with ${what(refusal)}, unit by unit, so it cannot come before or after that.`;
    case "left-out":
      return refusal.job === wish.job && refusal.task === wish.task
        ? refusal.why
        : `${what(refusal)} could not be planned any more. ${refusal.why}`;
    case "holds-other":
      return (
        `${what(refusal)} is on the published day sheet of ${names.crew(refusal.crew)} for ` +
        `${shortDate(refusal.date, "en")}, which is held, and would have to leave it. Release that sheet first.`
      );
    case "as-it-is":
      return "That is where it is already, so nothing would change.";
  }
}

function sayHeldBack({ because, kinds }: HeldBack): string {
  return because === "" ? kinds.map((kind) => HELD_BACK[kind]).join(" ") : because;
}

const HELD_BACK = {
  "start-of-plan": "",
  "crew-busy": "The crew is at other work until then.",
  "crew-off": "The crew does not work before then.",
  access: "The house lets nobody in before then.",
  "no-light": "There is no light to work by before then.",
  hold: "It is on hold until then.",
  "after-task": "Other work comes before it.",
  curing: "What comes before it must cure or dry until then.",
  "not-before": "It may not start before then.",
  delivery: "It waits for a delivery until then.",
  wait: "It waits for what comes before it until then.",
  "close-by-dark": "What it opens could not be closed by dark before then.",
  equipment: "The equipment that it needs is in use until then.",
  published: "Work that is published and held comes first.",
} as const satisfies Record<BecauseKind, string>;

/** "first", "last", "before Trim at 12 Harbor Road". */
export function sayPlace(names: MoveNames, place: MovePlace): string {
  if (!("task" in place)) return place.kind;
  return `${place.kind} ${names.title(place.job, place.task)} at ${names.house(place.job)}`;
}

/** "Birch, Wednesday 9 December, first". */
export function sayWish(names: MoveNames, { crew, date, place }: MoveWish): string {
  return `${names.crew(crew)}, ${longDate(date, "en")}, ${sayPlace(names, place)}`;
}

/** "Alder, Tue 8 Dec and Wed 9 Dec". */
export function sayDays(
  names: MoveNames,
  place: { readonly crews: readonly string[]; readonly dates: readonly CivilDate[] } | null,
): string {
  if (place === null) return "not planned";
  const [first, ...rest] = place.dates.map((date) => shortDate(date, "en"));
  const last = rest.at(-1);
  const days = last === undefined ? (first ?? "") : `${first ?? ""} to ${last}`;
  return `${place.crews.map((id) => names.crew(id)).join(" and ")}, ${days}`;
}

function count(people: number): string {
  return people === 1 ? "1 person" : `${people} people`;
}
