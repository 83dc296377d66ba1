/**
 * Where things stand on a story pole, in rem from the top of the board, so that the board grows with the reader's type.
 * A tag's stripe keeps the true times; its words may slide down to make room for the words above, and the board is
 * drawn at a larger scale until no words slide further than SLIDE_LIMIT_REM. So nothing is ever cut off.
 */
import type { Interval } from "../domain/time.js";

/** Something on a pole. `needsRem`: the heights that its words need, from the fullest wording to the shortest. */
export interface Slot extends Interval {
  readonly needsRem: readonly number[];
  /** Whether the words are a box that lasts as long as the block; else others may stand in the rest of its time. */
  readonly isBox: boolean;
}

export interface Placed {
  /** The true times. */
  readonly topRem: number;
  readonly heightRem: number;
  /** The words: at or below the true top, at least as high as they need. */
  readonly wordsTopRem: number;
  readonly wordsHeightRem: number;
  /** Which of `needsRem` was chosen. */
  readonly wording: number;
}

export interface BoardLayout {
  readonly remPerMinute: number;
  readonly heightRem: number;
  readonly poles: readonly (readonly Placed[])[];
}

const SCALES_REM_PER_MINUTE = [0.075, 0.09, 0.11, 0.135] as const;
const SLIDE_LIMIT_REM = 1.5;

/** Lays out all poles at one scale: the smallest at which words stay beside their times, or else the largest. */
export function layOutPoles(range: Interval, poles: readonly (readonly Slot[])[]): BoardLayout {
  const layouts = SCALES_REM_PER_MINUTE.map((scale) => layOutAt(scale, range, poles));
  const fitting = layouts.find((layout) => layout.slideRem <= SLIDE_LIMIT_REM);
  const { slideRem: _, ...layout } = fitting ?? layouts[layouts.length - 1] ?? layOutAt(0.135, range, poles);
  return layout;
}

function layOutAt(
  scale: number,
  range: Interval,
  poles: readonly (readonly Slot[])[],
): BoardLayout & { readonly slideRem: number } {
  const placed = poles.map((slots) => layOutPole(scale, range, slots));
  const bottoms = placed.flatMap((pole) => pole.map((slot) => slot.wordsTopRem + slot.wordsHeightRem));
  const slides = placed.flatMap((pole) => pole.map((slot) => slot.wordsTopRem - slot.topRem));
  return {
    remPerMinute: scale,
    heightRem: Math.max((range.end - range.start) * scale, ...bottoms),
    poles: placed,
    slideRem: Math.max(0, ...slides),
  };
}

function layOutPole(scale: number, range: Interval, slots: readonly Slot[]): readonly Placed[] {
  let freeRem = 0;
  return slots.map((slot) => {
    const topRem = (slot.start - range.start) * scale;
    const bottomRem = (slot.end - range.start) * scale;
    const wordsTopRem = Math.max(topRem, freeRem);
    const roomRem = bottomRem - wordsTopRem;
    const fits = slot.needsRem.findIndex((need) => need <= roomRem);
    const wording = fits === -1 ? slot.needsRem.length - 1 : fits;
    const needRem = slot.needsRem[wording] ?? 0;
    const wordsHeightRem = slot.isBox ? Math.max(needRem, roomRem) : needRem;
    freeRem = wordsTopRem + wordsHeightRem;
    return { topRem, heightRem: bottomRem - topRem, wordsTopRem, wordsHeightRem, wording };
  });
}

/** How many lines a text takes at a width in characters, broken between words (a longer word breaks inside). */
export function countLines(text: string, charactersPerLine: number): number {
  let lines = 1;
  let used = 0;
  for (const word of text.split(" ")) {
    const needed = used === 0 ? word.length : used + 1 + word.length;
    if (needed <= charactersPerLine) {
      used = needed;
      continue;
    }
    if (used > 0) lines++;
    lines += Math.max(0, Math.ceil(word.length / charactersPerLine) - 1);
    used = word.length % charactersPerLine || Math.min(word.length, charactersPerLine);
  }
  return lines;
}
