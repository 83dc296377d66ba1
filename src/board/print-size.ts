/**
 * How large the type of a printed page may be, so that all of it stands on one letter page: words are broken into lines
 * here as a browser will, by the widths of the bundled type. Heights and widths are in em, that is in sizes of the type,
 * where no other unit is named.
 */

/** In points. */
const LARGEST = 14;
const SMALLEST = 7;
const STEP = 0.1;

/** A letter page within the margins of print.css, in points. */
const PAGE = { width: 554.4, height: 734.4 } as const;

/** Of Atkinson Hyperlegible Next, with figures of one width, to a fiftieth; measured in a browser. */
const WIDTHS: readonly (readonly [number, string])[] = [
  [0.22, "',.:;"],
  [0.28, " !()[]|¡ijlíï·"],
  [0.34, '"-/°ftrI'],
  [0.46, "?¿cksvxyz"],
  [0.53, "–aeáéJ"],
  [0.62, "ABCKPRSVX"],
  [0.65, "0123456789"],
  [0.69, "DGHNOQUw"],
  [0.84, "mMW½%@"],
];
const USUAL_WIDTH = 0.57;
const BOLD_MORE = 0.035;
const WIDTH_OF = new Map(
  WIDTHS.flatMap(([width, letters]) => Array.from(letters, (one) => [one, width] as const)),
);

export const LINE_HEIGHT = 1.25;
/** What breaking and measuring may come out longer than it is reckoned here. */
const RESERVE = 0.02;

export interface Lettering {
  /** Against the type of the page. */
  readonly scale?: number;
  readonly isBold?: boolean;
}

function widthOf(text: string, { scale = 1, isBold = false }: Lettering = {}): number {
  let width = 0;
  for (const letter of text) width += (WIDTH_OF.get(letter) ?? USUAL_WIDTH) + (isBold ? BOLD_MORE : 0);
  return width * scale;
}

/** The lines that pieces take which stand beside each other as long as there is room, so far apart. */
function countLines(pieces: readonly number[], width: number, gap: number): number {
  let lines = 0;
  let left = 0;
  for (const piece of pieces) {
    const wanted = lines === 0 ? piece : gap + piece;
    if (lines > 0 && wanted <= left) {
      left -= wanted;
    } else {
      // What is longer than a line is broken.
      const own = Math.max(1, Math.ceil(piece / width));
      lines += own;
      left = own * width - piece;
    }
  }
  return lines;
}

/** The height of a text in a width. */
export function heightOf(text: string, width: number, lettering: Lettering = {}): number {
  if (text === "") return 0;
  const words = text.split(/\s+/).map((word) => widthOf(word, lettering));
  return countLines(words, width, widthOf(" ", lettering)) * LINE_HEIGHT * (lettering.scale ?? 1);
}

/** The height of short texts that stand beside each other and are broken apart rather than inside. */
export function heightOfRow(texts: readonly string[], width: number, gap: number): number {
  return (
    countLines(
      texts.map((text) => widthOf(text, { isBold: true })),
      width,
      gap,
    ) * LINE_HEIGHT
  );
}

/** The height of blocks in two columns that end as evenly as the blocks allow, none of them divided. */
export function balance(blocks: readonly number[]): number {
  const total = blocks.reduce((sum, height) => sum + height, 0);
  let first = 0;
  let least = total;
  for (const height of blocks) {
    first += height;
    least = Math.min(least, Math.max(first, total - first));
  }
  return least;
}

/**
 * The largest size in points at which a page is no higher than its paper; the smallest where it is higher at any size.
 * `heightAt` gives the page's height in em, for a page of so many em across.
 */
export function findSize(heightAt: (width: number) => number): number {
  const fits = (size: number): boolean => heightAt(PAGE.width / size) * size * (1 + RESERVE) <= PAGE.height;
  let [good, bad] = [0, Math.round((LARGEST - SMALLEST) / STEP) + 1];
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2);
    if (fits(SMALLEST + middle * STEP)) good = middle;
    else bad = middle;
  }
  return Number((SMALLEST + good * STEP).toFixed(1));
}
