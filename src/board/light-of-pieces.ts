/**
 * The light of a crew's day that is held by pieces of work alone, where no plan has figures of it: from the sun, the
 * crew's shift, the hours of the house and the cleanup that ends the day. The way home is not in it, for it is not published either.
 */
import { lightInHandMinutes, lightOn, toolsDown } from "../daylight/light.js";
import {
  zoneOfJob,
  type Company,
  type Crew,
  type Job,
  type PublishedBlock,
} from "../domain/company-schema.js";
import type { PlanDay } from "../domain/plan-format.js";
import { toIso, type CivilDate, type Minute } from "../domain/time.js";
import { shiftOn } from "../planner/compile/calendars.js";
import { ZoneDays } from "../planner/compile/zone-days.js";
import type { Reading } from "./reading.js";

/** One for each house that is worked; none where the crew has no shift that day. */
export function lightOfPieces(
  { company, zone, jobs }: Pick<Reading, "company" | "zone" | "jobs">,
  crew: Crew,
  date: CivilDate,
  pieces: readonly PublishedBlock[],
): readonly PlanDay[] {
  const shift = shiftOn(crew, new ZoneDays(zone, date), 0);
  if (shift === null) return [];
  const houses = [...new Set(pieces.map(({ job }) => job))].flatMap((id) => jobs.get(id ?? "") ?? []);
  return houses.map((house) => lightAt(company, crew, date, house, pieces, shift.end));
}

function lightAt(
  company: Company,
  crew: Crew,
  date: CivilDate,
  house: Job,
  pieces: readonly PublishedBlock[],
  shiftEnd: Minute,
): PlanDay {
  const zone = zoneOfJob(company, house);
  const margin = company.policy.lightMarginMinutes;
  const light = lightOn(house.site, date, zone, company.policy);
  const stretch = crew.stretch.includes(date);
  const end = stretch && light.last !== null ? Math.max(shiftEnd, light.last) : shiftEnd;
  const trades = house.tasks.flatMap((task) =>
    pieces.some((piece) => piece.job === house.id && piece.task === task.id)
      ? company.trades.filter(({ id }) => id === task.trade)
      : [],
  );
  const closing = Math.max(0, ...trades.map(({ cleanupMinutes }) => cleanupMinutes));
  const leave = house.access ? Math.min(end, new ZoneDays(zone, date).clock(0, house.access[1])) : end;
  const down = trades.some(({ outdoor }) => outdoor)
    ? toolsDown(light, stretch ? 0 : margin, leave, closing)
    : leave - closing;
  const written = (minute: Minute | null): string | null => (minute === null ? null : toIso(minute, zone));
  return {
    crew: crew.id,
    date,
    job: house.id,
    firstLight: written(light.first),
    lastLight: written(light.last),
    light: light.kind,
    toolsDown: written(down),
    lightInHandMinutes: lightInHandMinutes(light, margin, end),
    stretch,
  };
}
