/**
 * The story-pole board of one date: a pole for each crew that is called out, the day's real light behind them, and under
 * them what the plan costs, what it could not do, and the day's holds. Finished text, and positions in rem.
 */
import type { Crew } from "../domain/company-schema.js";
import { zoneOfJob } from "../domain/company-schema.js";
import {
  addDays,
  clockAt,
  parseClockTime,
  weekdayOf,
  type CivilDate,
  type Interval,
  type Minute,
} from "../domain/time.js";
import { layOutPoles, type Placed } from "./board-layout.js";
import { listTags, type Tag } from "./board-tags.js";
import { buildCostView, type CostView } from "./cost-view.js";
import { listHoldsOn, type HoldView } from "./hold-view.js";
import { buildGround, type Ground, type LightPlace, type Tone } from "./light-ground.js";
import type { DayBlock, Reading } from "./reading.js";
import { bareClock, clock, longDate } from "./spoken-time.js";
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

export interface BoardMark {
  readonly kind: "hour" | "sunrise" | "sunset";
  readonly text: string;
  readonly topRem: string;
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
  readonly ground: readonly { readonly tone: Tone; readonly percent: string }[];
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

/** Whole hours from before dawn (or the first tag) to after dark (or the last tag). */
function boardRange(tags: readonly Tag[], ground: Ground | undefined, zone: string): Interval {
  const starts = [...tags.map((tag) => tag.start), ...listTimes(ground?.dawn, ground?.sunrise)];
  const ends = [...tags.map((tag) => tag.end + 20), ...listTimes(ground?.sunset, ground?.dusk)];
  if (starts.length === 0 || ends.length === 0) return { start: 0, end: 60 };
  return { start: hourBefore(Math.min(...starts), zone), end: hourBefore(Math.max(...ends) + 59, zone) };
}

function listTimes(...times: readonly (Minute | null | undefined)[]): readonly Minute[] {
  return times.filter((time): time is Minute => time != null);
}

function hourBefore(minute: Minute, zone: string): Minute {
  return minute - ((parseClockTime(clockAt(minute, zone)) ?? 0) % 60);
}

/** Sun marks, and hours where no sun mark stands in their way. */
function listMarks(
  range: Interval,
  ground: Ground | undefined,
  zone: string,
  rem: (minute: Minute) => number,
): readonly BoardMark[] {
  const suns: { kind: "sunrise" | "sunset"; at: Minute }[] = [];
  if (ground?.sunrise != null) suns.push({ kind: "sunrise", at: ground.sunrise });
  if (ground?.sunset != null) suns.push({ kind: "sunset", at: ground.sunset });
  const marks: BoardMark[] = suns.map(({ kind, at }) => ({
    kind,
    text: `${kind === "sunrise" ? "sun up" : "sun sets"} ${bareClock(at, zone)}`,
    topRem: fixed(rem(at)),
  }));
  for (let hour = range.start; hour <= range.end; hour += 60) {
    if (suns.some(({ at }) => Math.abs(rem(at) - rem(hour)) < 2.2)) continue;
    marks.push({ kind: "hour", text: hourText(hour, zone), topRem: fixed(rem(hour)) });
  }
  return marks;
}

function hourText(hour: Minute, zone: string): string {
  return clockAt(hour, zone) === "12:00" ? "noon" : clock(hour, zone, "en").replace(":00", "");
}

function groundPercents(
  ground: Ground | undefined,
  heightRem: number,
  rem: (minute: Minute) => number,
): BoardView["ground"] {
  const stops = ground?.stops ?? [];
  const first = stops[0];
  if (first === undefined)
    return [
      { tone: "day", percent: "0" },
      { tone: "day", percent: "100" },
    ];
  // A gradient needs two stops; a polar day or night has one tone.
  const all = stops.length === 1 ? [first, { ...first, at: first.at + 1 }] : stops;
  return all.map((stop) => ({ tone: stop.tone, percent: fixed((rem(stop.at) / heightRem) * 100) }));
}

function sunFacts(place: LightPlace, ground: Ground, lastLight: "sunset" | "civil-dusk"): readonly string[] {
  const at = (minute: Minute): string => clock(minute, place.zone, "en");
  const facts: string[] = [];
  if (ground.sunrise !== null) facts.push(`sun up ${at(ground.sunrise)}`);
  if (ground.sunset !== null) facts.push(`sets ${at(ground.sunset)}`);
  if (lastLight === "civil-dusk" && ground.dusk !== null) facts.push(`dark ${at(ground.dusk)}`);
  if (ground.light.kind === "all-day") facts.push("light all day");
  else if (ground.working === null) facts.push("no light for outdoor work");
  else facts.push(`outdoor work and cleanup end by ${at(ground.working.end)}`);
  return [...facts, `light as at ${place.name}`];
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

function fixed(value: number): string {
  return value.toFixed(3).replace(/\.?0+$/, "");
}
