/**
 * The positions of a board, as rules for the page's own style element. Style attributes are forbidden by our content
 * policy, classes for every minute would be a large file, and text inside an SVG does not wrap: so each board brings the
 * few numbers of its own, and the words stay ordinary HTML that can be selected, enlarged and read aloud.
 * Only ids and numbers that the view made get in here, never a word from the company file.
 */
import type { BoardView } from "../board/board-view.js";

/** The rules; they hold for the drawn board, and the list that a phone or a printer shows ignores them. */
export function buildBoardStyle(view: BoardView): string {
  const stops = view.ground.map((stop) => `var(--${stop.tone}) ${stop.percent}%`).join(",");
  const rules = [
    `.board{--poles:${view.poles.length};--board-height:${view.heightRem}rem;--half-hour:${view.halfHourRem}rem}`,
    `.ground{background:linear-gradient(to bottom,${stops})}`,
    ...view.marks.map((mark, index) => `#mark-${index}{top:${mark.topRem}rem}`),
    ...view.poles.map((_pole, index) => `#pole-${index}{grid-column:${index + 2}}`),
    ...view.poles.flatMap((pole) =>
      pole.tags.flatMap((tag) => [
        `#${tag.id}-true{top:${tag.topRem}rem;height:${tag.heightRem}rem}`,
        `#${tag.id}-words{top:${tag.wordsTopRem}rem;height:${tag.wordsHeightRem}rem}`,
      ]),
    ),
  ];
  if (view.chalkRem !== undefined) rules.push(`.chalk{top:${view.chalkRem}rem}`);
  return `@media screen and (min-width:40.01em){${rules.join("")}}`;
}
