/**
 * When something was said on a phone, by the office's clock. Phones' clocks are wrong by hours and days; how long ago it
 * was said by its own clock a phone knows all the same.
 */
import { parseInstant, type Minute } from "../domain/time.js";
import type { DeskState } from "../services/desk.js";
import { MOST_MINUTES_AGO } from "../services/report-action.js";

/** The office's clock, and the zone of a time that names none. */
export interface OfficeTime {
  readonly nowMinute: Minute;
  readonly zone: string;
}

export const officeTimeOf = ({ nowMinute, company }: DeskState): OfficeTime => ({
  nowMinute,
  zone: company.company.timeZone,
});

const MS_PER_MINUTE = 60_000;
/**
 * A clock that is off by no more than this, the way of a large photo included, is right, and the time on it stands: a
 * minute lost or won in reckoning would put what was said in one minute out of order.
 */
const MOST_MINUTES_RIGHT = 5;
/** A time of a day in an offset from UTC; on anything else there is nothing to reckon with. */
const INSTANT = /T.*(?:Z|[+-]\d{2}:\d{2})$/;

/**
 * Both texts are ISO 8601 by the phone's clock, `sent` read at the moment of sending. Where the phone does not say that
 * (an older page that it has kept), or its clock was set back in between, `said` stands as it is. Undefined where `said`
 * is no time.
 */
export function toOfficeMinute(said: string, sent: string, office: OfficeTime): Minute | undefined {
  const saidMinute = parseInstant(said, office.zone);
  const sentMinute = INSTANT.test(sent) ? parseInstant(sent, office.zone) : undefined;
  if (saidMinute === undefined || sentMinute === undefined || !INSTANT.test(said)) return saidMinute;
  if (Math.abs(office.nowMinute - sentMinute) <= MOST_MINUTES_RIGHT) return saidMinute;
  const minutesAgo = Math.floor((Date.parse(sent) - Date.parse(said)) / MS_PER_MINUTE);
  return minutesAgo < 0 || minutesAgo > MOST_MINUTES_AGO ? saidMinute : office.nowMinute - minutesAgo;
}
