/** What a dispatcher may ask for by hand. */
import type { CivilDate } from "../../domain/time.js";

export type Wish =
  /** This crew works the task. */
  | { readonly kind: "pin-crew"; readonly job: string; readonly task: string; readonly crew: string }
  /** The task starts on that day, not before. */
  | { readonly kind: "pin-day"; readonly job: string; readonly task: string; readonly date: CivilDate }
  /** What two crews start on a day they do the other way round. */
  | { readonly kind: "swap-crews"; readonly crews: readonly [string, string]; readonly date: CivilDate }
  /** A crew stays at its present house until its tasks there are done. */
  | { readonly kind: "keep-crew"; readonly crew: string };

/** Why a wish cannot be kept. */
export interface WishRefusal {
  readonly kind: "wish-refused";
  readonly wish: Wish;
  readonly sentence: string;
}
