/**
 * The record as people read it: who did what and when, and what each thing was before and is after. Takes the rows as
 * they were kept, and the company file as it stands, by which names are known and by which it is seen at once what can
 * no longer be taken back.
 */
import {
  keyOf,
  listParts,
  partKinds,
  type Part,
  type PartKind,
  type Source,
} from "../domain/company-parts.js";
import { isSameJson } from "../domain/json-equality.js";
import { formatAt, minuteOfDate } from "../domain/time.js";
import {
  KIND_WORDS,
  listChangedFields,
  namePart,
  toNames,
  type ChangedField,
  type Names,
} from "./part-words.js";
import { clock } from "./spoken-time.js";

/** What a part was; null where there was none. */
export type PartStates = Readonly<Record<string, { readonly body: unknown } | null>>;

/** A row of the record. */
export interface RecordEntry {
  readonly version: number;
  readonly madeAt: Date;
  readonly personName: string;
  readonly kind: string;
  readonly sentence: string;
  readonly why: string;
  readonly before: PartStates;
  readonly after: PartStates;
  readonly undoes: number | null;
  readonly undoneBy: number | null;
}

export interface ChangedPartView {
  /** "Task: Side the front, 12 Harbor Road". */
  readonly title: string;
  readonly what: "added" | "removed" | "changed";
  readonly fields: readonly ChangedField[];
}

export interface RecordEntryView {
  readonly version: number;
  /** "Mon 7 Dec 2026, 6:00 pm", by the company's clock. */
  readonly when: string;
  readonly who: string;
  readonly kind: string;
  readonly sentence: string;
  readonly why: string;
  readonly parts: readonly ChangedPartView[];
  /** Where there are too many parts to show: "and 120 more". */
  readonly more: string;
  /** Why it cannot be taken back; empty where it may be tried. */
  readonly whyNotUndone: string;
}

/** More parts than these are counted and not shown. */
const MOST_PARTS = 12;

/** The rows in the order in which they came. */
export function buildRecordView(
  entries: readonly RecordEntry[],
  standing: Source,
): readonly RecordEntryView[] {
  const names = toNames(standing);
  const parts = new Map<string, Part>(listParts(standing).map((part) => [keyOf(part), part]));
  return entries.map((entry) => {
    const changed = listChangedParts(entry.before, entry.after, names);
    const minute = minuteOfDate(entry.madeAt);
    const more = changed.length - MOST_PARTS;
    return {
      version: entry.version,
      when: `${formatAt(minute, names.zone, "ccc d LLL y", "en-US")}, ${clock(minute, names.zone, "en")}`,
      who: entry.personName,
      kind: kindWords(entry.kind),
      sentence: entry.sentence,
      why: entry.why,
      parts: changed.slice(0, MOST_PARTS),
      more: more > 0 ? `and ${more.toLocaleString("en-US")} more` : "",
      whyNotUndone: findWhyNot(entry, parts),
    };
  });
}

/** What became of each part that a change touched. */
export function listChangedParts(
  before: PartStates,
  after: PartStates,
  names: Names,
): readonly ChangedPartView[] {
  const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])];
  return keys.flatMap((key): ChangedPartView[] => {
    const at = parseKey(key);
    if (at === undefined) return [];
    const [old, now] = [before[key] ?? null, after[key] ?? null];
    const name = namePart(at.kind, at.id, (now ?? old)?.body, names);
    const [kind] = KIND_WORDS[at.kind];
    const fields = listChangedFields(old?.body ?? {}, now?.body ?? {}, names);
    const what = old === null ? "added" : now === null ? "removed" : "changed";
    return [
      {
        title: name === "" ? kind : `${kind}: ${name}`,
        what,
        fields:
          what === "changed" && fields.length === 0
            ? [{ name: "Place in the list", before: "another", after: "this" }]
            : fields.filter((field) => field.name !== "Id"),
      },
    ];
  });
}

/** What the record calls a kind of change; a kind of another version of the program by its own name. */
export function kindWords(kind: string): string {
  return KINDS[kind] ?? kind;
}

const KINDS: Readonly<Record<string, string>> = {
  "company-loaded": "company file loaded",
  undone: "taken back",
  "hold-added": "hold added",
  "hold-changed": "hold changed",
  "hold-lifted": "hold lifted",
  "crew-language": "crew's language",
  "day-off-added": "day off added",
  "day-off-removed": "day off taken away",
  "delivery-changed": "delivery changed",
  "task-progress": "task progress",
  "task-moved": "work moved",
  "hours-added": "more hours",
  "task-added": "task added",
  "promise-moved": "promised date moved",
  "job-paused": "house paused",
  "way-taken": "way out taken",
  "slip-recorded": "slip recorded",
  "site-report": "report from site",
  "photo-added": "photo added",
  "plan-published": "plan published",
  "sheet-released": "day sheet released",
  "sheet-kept": "day sheet kept again",
};

/** What can be said without trying; the desk has the last word. */
function findWhyNot(entry: RecordEntry, standing: ReadonlyMap<string, Part>): string {
  if (entry.undoneBy !== null) return `This has been taken back, by change ${entry.undoneBy}.`;
  if (entry.before["company/only"] === null) return "The first company file cannot be taken back.";
  const isAsMade = Object.entries(entry.after).every(([key, state]) =>
    isSameJson(standing.get(key)?.body, state?.body),
  );
  return isAsMade ? "" : "What this wrote has been changed since, so it cannot be taken back.";
}

function parseKey(key: string): { readonly kind: PartKind; readonly id: string } | undefined {
  const slash = key.indexOf("/");
  const kind = partKinds.find((known) => known === key.slice(0, slash));
  return kind && { kind, id: key.slice(slash + 1) };
}
