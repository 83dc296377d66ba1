/** Ids: none given twice in one list, none used that is not given. */
import { entriesOf, isGiven, isReadable, UNREADABLE, type Draft } from "./draft.js";
import { findMeant, quotedList, toPath, type Place, type Report } from "./fault.js";

/** The ids of one list. Where one of them cannot be read, nothing can be called unknown. */
export interface KnownIds {
  readonly kind: string;
  /** " in this job", or nothing for a list of the whole file. */
  readonly where: string;
  readonly ids: ReadonlySet<string>;
  readonly complete: boolean;
}

/** The ids that the rest of the file may refer to. */
export interface Catalogue {
  readonly trades: KnownIds;
  readonly crews: KnownIds;
  readonly equipment: KnownIds;
  readonly jobs: KnownIds;
}

interface WithId {
  readonly id: Draft<string>;
}
type DraftList<T> = readonly (T | typeof UNREADABLE)[] | typeof UNREADABLE;

export function knownIds(kind: string, list: DraftList<WithId>, where = ""): KnownIds {
  if (!isReadable(list)) return { kind, where, ids: new Set(), complete: false };
  const ids = list.map((item) => (item === UNREADABLE ? UNREADABLE : item.id));
  return { kind, where, ids: new Set(ids.filter(isReadable)), complete: ids.every(isReadable) };
}

/** Reports each item whose `field` an earlier item of the list has already. */
export function checkUnique<Field extends string>(
  at: Place,
  list: DraftList<Readonly<Record<Field, Draft<string>>>>,
  field: Field,
  report: Report,
): void {
  const first = new Map<string, number>();
  for (const [index, item] of entriesOf(list)) {
    const value = item[field];
    if (!isGiven(value)) continue;
    const before = first.get(value);
    if (before === undefined) first.set(value, index);
    else {
      report(
        [...at, index, field],
        `The ${field} ${JSON.stringify(value)} is taken by ${toPath([...at, before])}. Choose another.`,
      );
    }
  }
}

const MOST_NAMED = 8;

/** Reports an id that is not in its list, with the one that was probably meant. True where it is known. */
export function checkKnown(
  at: Place,
  id: string | typeof UNREADABLE,
  known: KnownIds,
  report: Report,
): boolean {
  if (id === UNREADABLE) return false;
  if (known.ids.has(id)) return true;
  if (known.complete)
    report(at, `There is no ${known.kind} ${JSON.stringify(id)}${known.where}. ${adviceFor(id, known)}`);
  return false;
}

function adviceFor(id: string, { kind, where, ids }: KnownIds): string {
  const meant = findMeant(id, ids);
  if (meant !== undefined) return `Did you mean ${JSON.stringify(meant)}?`;
  if (ids.size === 0) return `Add it, or take it out here: no ${kind} is given${where}.`;
  if (ids.size > MOST_NAMED) return "Add it, or take it out here.";
  return `Add it, or write ${quotedList([...ids], "or")}.`;
}
