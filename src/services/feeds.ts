/**
 * Calendar feeds: what is published for a crew, beside what its calendar has been told before. A stay that has changed
 * counts its SEQUENCE up, and one that is no longer published is cancelled; both are written in the transaction that finds
 * it out, so that every calendar hears the same.
 */
import { listFeedEvents, type FeedEventBody } from "../board/crew-feed.js";
import type { Crew } from "../domain/company-schema.js";
import { isSameJson } from "../domain/json-equality.js";
import type { CivilDate } from "../domain/time.js";
import type { Database } from "../store/database.js";
import { listFedEvents, writeFedEvent, type FedEventRow } from "../store/fed-event-store.js";
import type { DeskState } from "./desk.js";

export type FedEvent = FedEventRow<FeedEventBody>;

export interface Feeds {
  /** What a crew's calendar is told as things stand, in order of date; cancelled stays included. */
  of(
    state: Pick<DeskState, "company" | "version" | "publication" | "today">,
    crew: Crew,
  ): Promise<readonly FedEvent[]>;
}

/** Feeds on a database that has been migrated. */
export function openFeeds(database: Database, now: () => Date = () => new Date()): Feeds {
  return {
    of: (state, crew) => {
      const { version, publication, today } = state;
      const events = listFeedEvents(state, crew);
      const stampedAt = publication?.madeAt ?? now();
      return database.transaction(async (queries) => {
        const rows = await listFedEvents<FeedEventBody>(queries, crew.id);
        // Another process has fed a newer company: what stands here is on its way out.
        if (rows.some((row) => row.version > version)) return rows;
        const changes = listChangedEvents(rows, events, { version, stampedAt, today });
        for (const change of changes) await writeFedEvent(queries, crew.id, change);
        return changes.length === 0 ? rows : listFedEvents<FeedEventBody>(queries, crew.id);
      });
    },
  };
}

/** Where there is no database: every event as if it had never been fed before. */
export const NO_FEEDS: Feeds = {
  of: (state, crew) =>
    Promise.resolve(
      listFeedEvents(state, crew).map((event) => ({
        ...event,
        sequence: 0,
        stampedAt: state.publication?.madeAt ?? new Date(0),
        isCancelled: false,
        version: state.version,
      })),
    ),
};

/** The rows that must be written so that the calendar hears of `events`. A day gone by is not taken back. */
function listChangedEvents(
  rows: readonly FedEvent[],
  events: ReturnType<typeof listFeedEvents>,
  { version, stampedAt, today }: { version: number; stampedAt: Date; today: CivilDate },
): readonly FedEvent[] {
  const known = new Map(rows.map((row) => [row.uid, row]));
  const written = events.flatMap(({ uid, date, body }): FedEvent[] => {
    const row = known.get(uid);
    if (row !== undefined && !row.isCancelled && isSameJson(row.body, body)) return [];
    const sequence = row === undefined ? 0 : row.sequence + 1;
    return [{ uid, date, sequence, stampedAt, isCancelled: false, version, body }];
  });
  const standing = new Set(events.map(({ uid }) => uid));
  const cancelled = rows
    .filter((row) => !standing.has(row.uid) && !row.isCancelled && row.date >= today)
    .map((row) => ({ ...row, sequence: row.sequence + 1, stampedAt, isCancelled: true, version }));
  return [...written, ...cancelled];
}
