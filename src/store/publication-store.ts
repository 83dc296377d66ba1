/**
 * Which change made what is published now: the newest one that wrote it and has not been taken back, a release of single
 * days left aside. Read from the record, so that an undo needs nothing of its own.
 */
import { onlyKey } from "../domain/company-parts.js";
import type { Queries } from "./database.js";

/** The change that published, and who made it. */
export interface PublishingChange {
  readonly version: number;
  readonly madeAt: Date;
  readonly personName: string;
  readonly kind: string;
  readonly sentence: string;
  readonly why: string;
  /** Whether what is published is the very thing that it published: no day of it has been released since. */
  readonly isAsMade: boolean;
}

/** Changes of these kinds only say of days that are published that they may move, or may not. */
export const RELEASE_KINDS = ["sheet-released", "sheet-kept"] as const;

/** Undefined where nobody has ever published, or all of it has been taken back. */
export async function findPublishingChange(queries: Queries): Promise<PublishingChange | undefined> {
  // An undo may itself be taken back: a change stands where an even number of undos hangs on it.
  const [row] = await queries.query<PublishingChange>(
    `with recursive chain as (
       select version as root, version, 0 as depth from change
       where (before || after) ? $1 and undoes is null and kind <> all ($2::text[])
       union all
       select chain.root, undo.version, chain.depth + 1
       from chain join change undo on undo.undoes = chain.version
     ),
     standing as (select root from chain group by root having max(depth) % 2 = 0)
     select version, made_at as "madeAt", person_name as "personName", kind, sentence, why,
       after -> $1 -> 'body' is not distinct from (select body from part where kind = 'published') as "isAsMade"
     from change where version = (select max(root) from standing)`,
    [onlyKey("published"), [...RELEASE_KINDS]],
  );
  return row;
}
