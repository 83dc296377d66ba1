/**
 * What a company file would change against what stands: parts that come, go or differ, by kind and with their names.
 * Compares what is written; a default that one file writes and the other leaves out differs.
 */
import {
  keyOf,
  listParts,
  partKinds,
  type Part,
  type PartKey,
  type PartKind,
  type Source,
} from "../domain/company-parts.js";
import { isSameJson } from "../domain/json-equality.js";
import { KIND_WORDS, listChangedFields, namePart, toNames, type ChangedField } from "./part-words.js";

export interface ChangedName {
  readonly name: string;
  readonly fields: readonly ChangedField[];
}

export interface KindDifference {
  /** "Houses". */
  readonly kind: string;
  readonly added: NameList;
  readonly removed: NameList;
  readonly changed: readonly ChangedName[];
  readonly changedCount: number;
  /** How many are the same in both. */
  readonly sameCount: number;
}

export interface NameList {
  readonly count: number;
  /** The first of them. */
  readonly names: readonly string[];
}

export interface CompanyDifference {
  readonly isSame: boolean;
  /** "3 added, 1 removed, 2 changed"; "nothing" where they are the same. */
  readonly summary: string;
  /** Kinds of which the two files have anything at all. */
  readonly kinds: readonly KindDifference[];
}

/** More names than these are counted and not shown. */
const MOST_NAMES = 20;

/** Both files have passed every check; `before` is undefined where no company stands. */
export function buildCompanyDifference(before: Source | undefined, after: Source): CompanyDifference {
  const [old, now] = [indexParts(before), indexParts(after)];
  const [oldNames, nowNames] = [toNames(before ?? after), toNames(after)];
  const nameOf = (part: Part, isOld: boolean): string =>
    namePart(part.kind, part.id, part.body, isOld ? oldNames : nowNames) || KIND_WORDS[part.kind][0];
  const kinds = partKinds.flatMap((kind): KindDifference[] => {
    const added = ofKind(now, kind).filter((part) => !old.has(keyOf(part)));
    const removed = ofKind(old, kind).filter((part) => !now.has(keyOf(part)));
    const both = ofKind(now, kind).filter((part) => old.has(keyOf(part)));
    const changed = both.filter((part) => !isSameJson(old.get(keyOf(part))?.body, part.body));
    if (added.length + removed.length + both.length === 0) return [];
    return [
      {
        kind: KIND_WORDS[kind][1],
        added: toList(added.map((part) => nameOf(part, false))),
        removed: toList(removed.map((part) => nameOf(part, true))),
        changed: changed.slice(0, MOST_NAMES).map((part) => ({
          name: nameOf(part, false),
          fields: listChangedFields(old.get(keyOf(part))?.body, part.body, nowNames),
        })),
        changedCount: changed.length,
        sameCount: both.length - changed.length,
      },
    ];
  });
  const counts = [
    [sum(kinds, ({ added }) => added.count), "added"],
    [sum(kinds, ({ removed }) => removed.count), "removed"],
    [sum(kinds, ({ changedCount }) => changedCount), "changed"],
  ] as const;
  const told = counts.filter(([count]) => count > 0);
  const summary = told.map(([count, word]) => `${count.toLocaleString("en-US")} ${word}`).join(", ");
  return { isSame: told.length === 0, summary: summary === "" ? "nothing" : summary, kinds };
}

function indexParts(source: Source | undefined): ReadonlyMap<PartKey, Part> {
  return new Map((source === undefined ? [] : listParts(source)).map((part) => [keyOf(part), part]));
}

function ofKind(parts: ReadonlyMap<PartKey, Part>, kind: PartKind): readonly Part[] {
  return [...parts.values()].filter((part) => part.kind === kind);
}

function toList(names: readonly string[]): NameList {
  return { count: names.length, names: names.slice(0, MOST_NAMES) };
}

function sum(kinds: readonly KindDifference[], count: (kind: KindDifference) => number): number {
  return kinds.reduce((total, kind) => total + count(kind), 0);
}
