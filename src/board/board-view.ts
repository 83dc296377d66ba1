/**
 * The story-pole board of one date: a pole for each crew that is called out, the day's real light behind them, and under
 * them what the plan costs, what it could not do, and the day's holds. Finished text, and positions in rem.
 */
import type { Crew } from "../domain/company-schema.js";
import { zoneOfJob } from "../domain/company-schema.js";
import { addDays, weekdayOf, type CivilDate, type Minute } from "../domain/time.js";
import {
  boardRange,
  fixed,
  groundPercents,
  listMarks,
  sunFacts,
  type BoardMark,
  type GroundPercent,
} from "./board-edge.js";
import { layOutPoles, type Placed } from "./board-layout.js";
import { listTags, type Tag } from "./board-tags.js";
import { buildCostView, type CostView } from "./cost-view.js";
import { listHoldsOn, type HoldView } from "./hold-view.js";
import { buildGround, type LightPlace } from "./light-ground.js";
import type { DayBlock, Reading } from "./reading.js";
import { longDate } from "./spoken-time.js";
import { stampOf, type StampView } from "./trade-stamp.js";

export interface TagView {
  /** Unique on the page; the style rules name it. */
  readonly id: string;
  readonly kind: Tag["kind"];
  readonly stamp: StampView | null;
  readonly trade: string;
  readonly isShort: boolean;
  readonly heading: string;
  readonly detail: string;
  readonly line: string;
  readonly until: string;
  readonly needsAttention: boolean;
  readonly work: Tag["work"];
  readonly topRem: string;
  readonly heightRem: string;
  readonly wordsTopRem: string;
  readonly wordsHeightRem: string;
}

export interface PoleView {
  readonly crewId: string;
  readonly crewName: string;
  /** "Noor +2 · siding"; a subcontractor says so. */
  readonly who: string;
  readonly tags: readonly TagView[];
}

export interface TroubleView {
  readonly jobId: string;
  readonly what: string;
  readonly why: string;
}

export interface BoardView {
  readonly date: CivilDate;
  readonly title: string;
  /** Sun, end of outdoor work, and the place they are taken for. */
  readonly facts: readonly string[];
  readonly previous: CivilDate;
  readonly next: CivilDate;
  /** The next date after this one on which anyone is called out. */
  readonly nextCalledOut: CivilDate | undefined;
  readonly nextCalledOutTitle: string;
  readonly poles: readonly PoleView[];
  /** Crews that stay at home, each with the reason. */
  readonly atHome: readonly string[];
  readonly heightRem: string;
  /** The distance of two marks on a pole. */
  readonly halfHourRem: string;
  readonly marks: readonly BoardMark[];
  /** Top of the chalk line; undefined on a date without a sunset. */
  readonly chalkRem: string | undefined;
  readonly ground: readonly GroundPercent[];
  readonly legend: readonly { readonly stamp: StampView; readonly name: string }[];
  readonly holds: readonly HoldView[];
  readonly cost: CostView;
  readonly impossible: readonly TroubleView[];
  readonly unkept: readonly TroubleView[];
}

/** The board of a date. A date on which nobody is called out has no poles and says where to look next. */
export function buildBoardView(reading: Reading, date: CivilDate): BoardView {
  const { company } = reading;
  const called = company.crews.filter((crew) => reading.dayOf(crew.id, date).length > 0);
  const blocks = called.flatMap((crew) => reading.dayOf(crew.id, date));
  const place = lightPlace(reading, blocks);
  const ground = place === undefined ? undefined : buildGround(company, place, date);
  const tags = called.map((crew) => listTags(reading, crew.id, date));
  const range = boardRange(tags.flat(), ground, reading.zone);
  const layout = layOutPoles(range, tags);
  const rem = (minute: Minute): number => (minute - range.start) * layout.remPerMinute;
  const nextCalledOut = company.crews
    .flatMap((crew) => reading.datesOf(crew.id))
    .filter((other) => other > date)
    .sort()[0];
  const tradesWorked = new Set(blocks.map((block) => block.task?.trade ?? null));

  return {
    date,
    title: longDate(date, "en"),
    facts:
      place === undefined || ground === undefined ? [] : sunFacts(place, ground, company.policy.lastLight),
    previous: addDays(date, -1),
    next: addDays(date, 1),
    nextCalledOut,
    nextCalledOutTitle: nextCalledOut === undefined ? "" : longDate(nextCalledOut, "en"),
    poles: called.map((crew, pole) => ({
      crewId: crew.id,
      crewName: crew.name,
      who: who(reading, crew, date),
      tags: (tags[pole] ?? []).flatMap((tag, index) => {
        const placed = layout.poles[pole]?.[index];
        return placed === undefined ? [] : [tagView(tag, placed, `tag-${pole}-${index}`)];
      }),
    })),
    atHome: company.crews.filter((crew) => !called.includes(crew)).map((crew) => atHome(crew, date)),
    heightRem: fixed(layout.heightRem),
    halfHourRem: fixed(30 * layout.remPerMinute),
    marks: listMarks(range, ground, reading.zone, rem),
    chalkRem: ground?.sunset == null ? undefined : fixed(rem(ground.sunset)),
    ground: groundPercents(ground, layout.heightRem, rem),
    legend: company.trades
      .filter((trade) => tradesWorked.has(trade.id))
      .map((trade) => ({ stamp: stampOf(company.trades, trade.id), name: trade.name.en })),
    holds: listHoldsOn(company, date),
    cost: buildCostView(reading),
    impossible: reading.plan.impossible.map((item) => trouble(reading, item.job, item.task, item.why)),
    unkept: reading.plan.unkept.map((item) => trouble(reading, item.job, item.task, item.why)),
  };
}

function tagView(tag: Tag, placed: Placed, id: string): TagView {
  return {
    id,
    kind: tag.kind,
    stamp: tag.stamp,
    trade: tag.trade,
    isShort: tag.kind !== "work" || placed.wording > 0,
    heading: tag.heading,
    detail: tag.detail,
    line: tag.line,
    until: tag.until,
    needsAttention: tag.needsAttention,
    work: tag.work,
    topRem: fixed(placed.topRem),
    heightRem: fixed(placed.heightRem),
    wordsTopRem: fixed(placed.wordsTopRem),
    wordsHeightRem: fixed(placed.wordsHeightRem),
  };
}

/** The first house worked that day; the yard, or the first house of the file, where nobody works. */
function lightPlace(reading: Reading, blocks: readonly DayBlock[]): LightPlace | undefined {
  const { company, zone } = reading;
  const first = blocks.filter((block) => block.kind === "work").sort((a, b) => a.start - b.start)[0]?.job;
  if (first != null) return { name: first.name, ...first.site, zone: zoneOfJob(company, first) };
  if (company.company.yard !== null) return { name: "the yard", ...company.company.yard, zone };
  const house = company.jobs[0];
  return house && { name: house.name, ...house.site, zone: zoneOfJob(company, house) };
}

/** The lead, how many more, and the trades of the day. */
function who(reading: Reading, crew: Crew, date: CivilDate): string {
  const others = crew.size > 1 ? ` +${crew.size - 1}` : "";
  const worked = reading
    .dayOf(crew.id, date)
    .flatMap((block) => (block.task === null ? [] : [block.task.trade]));
  const trades = [...new Set(worked)].map((id) => reading.trades.get(id ?? "")?.name.en.toLowerCase() ?? "");
  return `${crew.kind === "sub" ? "(sub) " : ""}${crew.lead}${others} · ${trades.join(", ")}`;
}

function atHome(crew: Crew, date: CivilDate): string {
  const off = crew.off.find((days) => days.from <= date && date <= days.to);
  if (off !== undefined) return `${crew.name}: off${off.why === "" ? "" : ` (${off.why})`}`;
  const hasShift =
    crew.extra.some((extra) => extra.date === date) || crew.week[weekdayOf(date)] !== undefined;
  return hasShift ? `${crew.name}: no work that can be done that day` : `${crew.name}: no shift that day`;
}

function trouble(reading: Reading, jobId: string, taskId: string, why: string): TroubleView {
  const job = reading.jobs.get(jobId);
  return { jobId, what: `${job?.name ?? jobId}: ${reading.task(jobId, taskId)?.title ?? taskId}`, why };
}
