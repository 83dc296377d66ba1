/**
 * Moving work by hand, as people read it: the menus under a board, and the page that says what a move would mean before
 * it is made. Finished text; what is possible and what it costs is found by the planner.
 */
import { addDays, civilDateAt, type CivilDate, type Minute } from "../domain/time.js";
import type { Result } from "../domain/result.js";
import type { Company } from "../domain/company-schema.js";
import { listPromises } from "../planner/compile/promises.js";
import {
  findHeld,
  listAbleCrews,
  type MovePlace,
  type MoveRefusal,
  type MoveWish,
} from "../planner/moving/move-refusal.js";
import type { MovedPlan } from "../planner/moving/move-task.js";
import type { PromiseChange } from "../planner/ways-out/plan-difference.js";
import { MoveNames, sayDays, sayHeld, sayMoveRefusal, sayWish } from "./move-words.js";
import type { Reading } from "./reading.js";
import { longDate, shortDate } from "./spoken-time.js";

export interface Choice {
  readonly value: string;
  readonly words: string;
}

/** One block of work that a board shows, and where it may go. */
export interface MoveMenuView {
  /** Unique on the page. */
  readonly id: string;
  readonly jobId: string;
  readonly taskId: string;
  readonly crewId: string;
  /** "Trim, left side at 12 Harbor Road". */
  readonly what: string;
  readonly crewName: string;
  /** Why it cannot be picked up; empty where it can. */
  readonly held: string;
  readonly crews: readonly Choice[];
}

export interface MovesView {
  /** In the order of the poles. */
  readonly menus: readonly MoveMenuView[];
  /** The same by `job/task`. */
  readonly menuOf: Readonly<Record<string, MoveMenuView>>;
  /** Days to go to, the board's own among them. */
  readonly days: readonly { readonly date: CivilDate; readonly words: string; readonly isShown: boolean }[];
  readonly today: CivilDate;
}

const DAYS_SHOWN = 10;

/** The menus of a board. */
export function buildMovesView(reading: Reading, date: CivilDate, asOf: Minute): MovesView {
  const { company } = reading;
  const names = new MoveNames(company);
  const promises = listPromises(company, asOf);
  const today = civilDateAt(asOf, reading.zone);
  const menus = company.crews.flatMap((crew) => {
    const blocks = reading.dayOf(crew.id, date);
    const tasks = new Map(
      blocks.flatMap(({ kind, job, task }) =>
        kind === "work" && job !== null && task !== null
          ? [[`${job.id}/${task.id}`, { job, task }] as const]
          : [],
      ),
    );
    return [...tasks.values()].map(({ job, task }): Omit<MoveMenuView, "id"> => {
      const held = findHeld(job, task, promises);
      return {
        jobId: job.id,
        taskId: task.id,
        crewId: crew.id,
        what: `${names.title(job.id, task.id)} at ${job.name}`,
        crewName: crew.name,
        held: held === undefined ? "" : sayHeld(names, held),
        crews: listAbleCrews(company, task).map(({ id, name }) => ({ value: id, words: name })),
      };
    });
  });
  const numbered = menus.map((menu, index): MoveMenuView => ({ ...menu, id: `move-${index}` }));
  const first = date < today ? today : addDays(date, -2) < today ? today : addDays(date, -2);
  return {
    menus: numbered,
    menuOf: Object.fromEntries(numbered.map((menu) => [`${menu.jobId}/${menu.taskId}`, menu])),
    days: Array.from({ length: DAYS_SHOWN }, (_, ahead) => {
      const day = addDays(first, ahead);
      return { date: day, words: shortDate(day, "en"), isShown: day === date };
    }),
    today,
  };
}

/** What is known of a move before it is made. */
export type MoveFacts = Pick<MovedPlan, "difference" | "costBefore" | "costAfter">;

export interface MoveView {
  readonly jobId: string;
  readonly taskId: string;
  readonly jobName: string;
  readonly what: string;
  /** "Alder, Tue 8 Dec". */
  readonly now: string;
  /** "Birch, Wednesday 9 December, first". */
  readonly wish: string;
  /** That it was not to start before another day until now; empty where it was not. */
  readonly gate: string;
  /** Why not; empty where it can be. */
  readonly refusal: string;
  /** "12,910 now, 13,210 with it: 300 more." */
  readonly cost: string;
  readonly promises: readonly string[];
  /** Other tasks that are worked on other days or by other crews. */
  readonly moved: readonly { readonly what: string; readonly before: string; readonly after: string }[];
  readonly form: {
    readonly crew: string;
    readonly date: string;
    readonly place: string;
    readonly crews: readonly Choice[];
    readonly places: readonly Choice[];
  };
  readonly backTo: CivilDate;
}

/** The page of a wish. The task is one that the company has. */
export function buildMoveView(
  reading: Reading,
  wish: MoveWish,
  outcome: Result<MoveFacts, MoveRefusal>,
): MoveView {
  const { company } = reading;
  const names = new MoveNames(company);
  const task = reading.task(wish.job, wish.task);
  const planned = reading.planned(wish.job, wish.task);
  const start = planned === undefined ? undefined : civilDateAt(planned.start, reading.zone);
  const place = planned?.crew && start ? { crews: [planned.crew.id], dates: [start] } : null;
  const gate = task?.notBefore ?? null;
  return {
    jobId: wish.job,
    taskId: wish.task,
    jobName: names.house(wish.job),
    what: `${names.title(wish.job, wish.task)} at ${names.house(wish.job)}`,
    now: sayDays(names, place),
    wish: sayWish(names, wish),
    gate:
      outcome.ok && gate !== null && gate.slice(0, 10) !== wish.date
        ? `Until now it was not to start before ${gate.slice(0, 10)}; this takes the place of that.`
        : "",
    refusal: outcome.ok ? "" : sayMoveRefusal(company, wish, outcome.error),
    cost: outcome.ok ? sayCost(outcome.value) : "",
    promises: outcome.ok ? listPromiseLines(names, outcome.value.difference.promises) : [],
    moved: outcome.ok ? listMoved(names, wish, outcome.value) : [],
    form: {
      crew: wish.crew,
      date: wish.date,
      place: toPlaceText(wish.place),
      crews: (task === undefined ? [] : listAbleCrews(company, task)).map(({ id, name }) => ({
        value: id,
        words: name,
      })),
      places: listPlaces(reading, wish),
    },
    backTo: start ?? wish.date,
  };
}

/** What hovering over a place says of it, in a few words. */
export function sayMoveShortly(
  company: Company,
  wish: MoveWish,
  outcome: Result<MoveFacts, MoveRefusal>,
): string {
  const names = new MoveNames(company);
  const where = sayWish(names, wish);
  if (!outcome.ok) return `${where}: not possible. ${sayMoveRefusal(company, wish, outcome.error)}`;
  const { value } = outcome;
  const moved = listMoved(names, wish, value).length;
  const also = moved === 0 ? "moves nothing else" : `moves ${moved} other ${moved === 1 ? "task" : "tasks"}`;
  const promises = listPromiseLines(names, value.difference.promises);
  return [`${where}: possible, ${also}.`, ...promises, `Cost ${sayCost(value)}`].join(" ");
}

/** "first", "after:harbor-12/t1": a place as a form sends it. */
export function toPlaceText(place: MovePlace): string {
  return "task" in place ? `${place.kind}:${place.job}/${place.task}` : place.kind;
}

/** Undefined where the text is no place. */
export function parsePlace(text: string): MovePlace | undefined {
  if (text === "first" || text === "last") return { kind: text };
  const [, kind, job, task] = /^(before|after):([\w.-]{1,64})\/([\w.-]{1,64})$/.exec(text) ?? [];
  if ((kind !== "before" && kind !== "after") || job === undefined || task === undefined) return undefined;
  return { kind, job, task };
}

function listPlaces(reading: Reading, wish: MoveWish): readonly Choice[] {
  const names = new MoveNames(reading.company);
  const seen = new Set<string>([`${wish.job}/${wish.task}`]);
  const others = reading.dayOf(wish.crew, wish.date).flatMap(({ kind, job, task }) => {
    if (kind !== "work" || job === null || task === null || seen.has(`${job.id}/${task.id}`)) return [];
    seen.add(`${job.id}/${task.id}`);
    return [{ job: job.id, task: task.id }];
  });
  const choices: Choice[] = [
    { value: "first", words: "First of what it begins that day" },
    ...others.flatMap((other) =>
      (["before", "after"] as const).map((kind) => ({
        value: toPlaceText({ kind, ...other }),
        words: `${kind === "before" ? "Before" : "After"} ${names.title(other.job, other.task)} at ${names.house(other.job)}`,
      })),
    ),
    { value: "last", words: "Last of what it begins that day" },
  ];
  const asked = toPlaceText(wish.place);
  return choices.some(({ value }) => value === asked)
    ? choices
    : [...choices, { value: asked, words: sayWish(names, wish) }];
}

function listMoved(names: MoveNames, wish: MoveWish, { difference }: MoveFacts): MoveView["moved"] {
  return difference.moved
    .filter(({ job, task }) => job !== wish.job || task !== wish.task)
    .map(({ job, task, before, after }) => ({
      what: `${names.title(job, task)} at ${names.house(job)}`,
      before: sayDays(names, before),
      after: sayDays(names, after),
    }));
}

function listPromiseLines(names: MoveNames, promises: readonly PromiseChange[]): readonly string[] {
  return promises.flatMap(({ job, promised, lateBefore, lateAfter, kind }) => {
    const house = `${names.house(job)}, promised for ${longDate(promised, "en")}`;
    const late = lateAfter === null ? "not finished" : `${days(lateAfter)} late`;
    switch (kind) {
      case "broken":
        return [`Breaks a promised date: ${house}, ${late}.`];
      case "saved":
        return [`Saves a promised date: ${house}, was ${days(lateBefore ?? 0)} late.`];
      case "later":
      case "sooner":
        return [`${house}: ${late} instead of ${lateBefore === null ? "not finished" : days(lateBefore)}.`];
      case "as-late":
        return [];
    }
  });
}

function sayCost({ costBefore, costAfter }: MoveFacts): string {
  const [before, after] = [Math.round(costBefore), Math.round(costAfter)];
  const by = Math.abs(after - before).toLocaleString("en-US");
  const change = after === before ? "the same" : after > before ? `${by} more` : `${by} less`;
  return `${before.toLocaleString("en-US")} now, ${after.toLocaleString("en-US")} with it: ${change}.`;
}

function days(number: number): string {
  return number === 1 ? "1 day" : `${number} days`;
}
