/**
 * What has been tried: orders, so that none is decoded twice, and schedules, because most orders of a small problem lead
 * to one that is known. The more of them do, the stronger changes are made, until half of the schedules are new.
 */
import type { Genome } from "../search.js";
import type { Member } from "./member.js";

const STEP = 1.1;
const STRONGEST = 3;
/** So many are remembered; then it begins anew. */
const MOST_REMEMBERED = 200_000;

export class Novelty {
  /** 1 and more: how strong changes should be. */
  strength = 1;
  private readonly orders = new Set<number>();
  private readonly schedules = new Set<number>();

  /** Whether this has been asked of the genome before, in this direction. (A mix-up has odds of one in 2^52.) */
  isKnown({ order, staffing }: Genome, backward: boolean): boolean {
    return remember(this.orders, hash([order, staffing], backward));
  }

  /** Takes note of a schedule, and sets the strength by it. */
  note({ starts, genome, backward }: Member): void {
    const isKnown = remember(this.schedules, hash([starts, genome.staffing], backward));
    this.strength = isKnown ? Math.min(STRONGEST, this.strength * STEP) : Math.max(1, this.strength / STEP);
  }
}

function remember(known: Set<number>, key: number): boolean {
  if (known.has(key)) return true;
  if (known.size >= MOST_REMEMBERED) known.clear();
  known.add(key);
  return false;
}

/** Two hashes of 32 bits in the manner of FNV-1a with different multipliers, in one whole number of 52 bits. */
function hash(parts: readonly Int32Array[], backward: boolean): number {
  let one = backward ? 0x811c9dc5 : 0x01000193;
  let two = 0x9e3779b9;
  for (const part of parts) {
    for (const value of part) {
      one = Math.imul(one ^ value, 0x01000193);
      two = Math.imul(two ^ value, 0x85ebca6b);
      two ^= two >>> 13;
    }
  }
  return ((one ^ (one >>> 15)) >>> 0) * 0x100000 + (two >>> 12);
}
