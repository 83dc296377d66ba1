/**
 * The holds of a date on a crew's sheet: those that concern the crew, for it has no use for what stops others at a house
 * where it is not. The office's board has all of them.
 */
import type { Crew, Hold } from "../domain/company-schema.js";
import type { CivilDate } from "../domain/time.js";
import { isAtHouse, stopsTrade } from "../weather/hold-list.js";
import { holdsOn, holdTimes } from "./hold-view.js";
import { listHouses, type Reading } from "./reading.js";
import type { Language } from "./spoken-time.js";
import { WORDS } from "./words.js";

/**
 * The holds that stop a trade of the crew at all houses, or at one where it works that date; on a day without work, also
 * those that its work waits for.
 */
export function holdsOfCrew(reading: Reading, crew: Crew, date: CivilDate): readonly Hold[] {
  const trades = Object.keys(crew.trades).map((id) => reading.trades.get(id));
  const houses = listHouses(reading.dayOf(crew.id, date));
  return holdsOn(reading.company, date).filter((hold) => {
    if (!trades.some((trade) => stopsTrade(hold, trade))) return false;
    if (hold.jobs === "all") return true;
    return houses.length === 0
      ? isWaitedFor(reading, crew, hold)
      : houses.some(({ id }) => isAtHouse(hold, id));
  });
}

function isWaitedFor(reading: Reading, crew: Crew, hold: Hold): boolean {
  return reading.plan.tasks.some(
    ({ job, task, crew: planned, because }) =>
      planned === crew.id &&
      because.kind === "hold" &&
      isAtHouse(hold, job) &&
      stopsTrade(hold, reading.trades.get(reading.task(job, task)?.trade ?? "")),
  );
}

/** "Siding, 8 Harbor View, Wed 9 Dec, 1:00 pm to 4:00 pm: rain". */
export function sayHold(reading: Reading, hold: Hold, language: Language): string {
  const words = WORDS[language];
  const { company } = reading;
  const work =
    hold.trades === "outdoor"
      ? words.outdoorWork
      : hold.trades === "all"
        ? words.allWork
        : hold.trades.map((id) => reading.trades.get(id)?.name[language] ?? id).join(", ");
  const where =
    hold.jobs === "all"
      ? words.everyHouse
      : hold.jobs.map((id) => reading.jobs.get(id)?.name ?? id).join(", ");
  const why = hold.why === "" ? "" : `: ${hold.why}`;
  return `${words.holdOn(work, where)}, ${holdTimes(company, hold, language)}${why}`;
}
