/**
 * A crew's feed as iCalendar (RFC 5545). All times in UTC, which every calendar shows by its own wall clock, right across
 * clock changes as well.
 */
import ical, { ICalEventStatus } from "ical-generator";
import type { Crew } from "../domain/company-schema.js";
import type { Minute } from "../domain/time.js";
import type { FedEvent } from "../services/feeds.js";

/** How often a calendar should ask again. */
const ASK_AGAIN_SECONDS = 3_600;

export function toCalendarText(crew: Crew, companyName: string, events: readonly FedEvent[]): string {
  const calendar = ical({
    name: `${crew.name}, ${companyName}`,
    prodId: { company: "daylap", product: "crew days", language: crew.language.toUpperCase() },
    ttl: ASK_AGAIN_SECONDS,
  });
  for (const { uid, sequence, stampedAt, isCancelled, body } of events) {
    calendar.createEvent({
      id: uid,
      sequence,
      stamp: stampedAt,
      lastModified: stampedAt,
      start: toDate(body.start),
      end: toDate(body.end),
      summary: body.summary,
      description: body.description,
      location: { title: body.location, geo: body.place },
      status: isCancelled
        ? ICalEventStatus.CANCELLED
        : body.isTentative
          ? ICalEventStatus.TENTATIVE
          : ICalEventStatus.CONFIRMED,
    });
  }
  return calendar.toString();
}

const toDate = (minute: Minute): Date => new Date(minute * 60_000);
