/**
 * Deaths in the middle of publishing: an app is killed while a dispatcher publishes, changes what moves the next plan,
 * publishes again and takes it back. Whatever a start then finds must be whole: each publish has its row on record, its
 * plan, its calls and the promise that it made, or none of them; and what was answered as done is there.
 */
import { setTimeout as sleep } from "node:timers/promises";
import type { Random } from "../../src/planner/core/random.js";
import { openDatabase, type Database } from "../../src/store/database.js";
import type { Visitor } from "../web/visitor.js";
import { becomeOwner, killApp, serveApp, stopApp, type ServedApp } from "./served-app.js";

export interface PublishKillRounds {
  readonly rounds: number;
  /** Publishes and undos that were answered as done. */
  readonly acknowledged: number;
  /** What was lost or half done, each in a sentence. */
  readonly wrong: readonly string[];
}

/** `url` names an empty database; `file` is a company file with a crew "alder" and work for it. */
export async function runPublishKillRounds(
  url: string,
  file: string,
  rounds: number,
  random: Random,
): Promise<PublishKillRounds> {
  const args = ["--file", file, "--as-of", "2026-12-03T16:00"];
  const env = { DATABASE_URL: url };
  const database = openDatabase(url);
  let app = await serveApp(args, env);
  const owner = await becomeOwner(app);
  let acknowledged = 0;
  const wrong: string[] = [];
  try {
    for (let round = 0; round < rounds; round += 1) {
      const done: string[] = [];
      let isOver = false;
      const work = dispatch(owner, `round ${round}`, done, () => isOver);
      await sleep(100 + random.below(1_500));
      await killApp(app);
      isOver = true;
      await work;
      acknowledged += done.length;
      app = await serveApp(args, env);
      owner.moveTo(app);
      wrong.push(...(await listWrong(database, done)).map((sentence) => `Round ${round}: ${sentence}`));
    }
  } finally {
    await database.close();
    await stop(app);
  }
  return { rounds, acknowledged, wrong };
}

/** Publishes, moves work by a day off, publishes, ticks a call off, takes the publish back: over and over. */
async function dispatch(owner: Visitor, name: string, done: string[], isOver: () => boolean): Promise<void> {
  for (let count = 0; !isOver(); count += 1) {
    try {
      const why = `${name}, ${count}`;
      const plan = valueIn(await owner.textOf("/published"), "/published", "plan");
      const published = await owner.post("/published", { plan, reason: why });
      if (published.status === 303) done.push(why);
      const calls = await owner.textOf("/calls");
      const tick = /action="(\/calls\/\d+\/tick)"/.exec(calls)?.[1];
      if (tick !== undefined) await owner.post(tick);
      if (count % 3 === 2) {
        const version = valueIn(await owner.textOf("/published"), "/published/undo", "version");
        const undone = await owner.post("/published/undo", { version, reason: `${why}, undone` });
        if (undone.status === 303) done.push(`${why}, undone`);
      }
      await toggleDayOff(owner);
    } catch {
      // The app died before it answered: this one may be there or not.
    }
  }
}

const DAY_OFF = { from: "2026-12-07", to: "2026-12-07", why: "training" };

async function toggleDayOff(owner: Visitor): Promise<void> {
  const page = await owner.textOf("/crews/alder/days-off");
  const form = page.slice(page.indexOf('action="/crews/alder/days-off/remove"'));
  const isOff = page.includes('action="/crews/alder/days-off/remove"');
  const version = /name="version" value="(\d+)"/.exec(isOff ? form : page)?.[1] ?? "";
  await owner.post(`/crews/alder/days-off${isOff ? "/remove" : ""}`, { ...DAY_OFF, version });
}

function valueIn(page: string, action: string, name: string): string {
  const form = page.slice(page.indexOf(`action="${action}"`));
  return new RegExp(`name="${name}" value="([^"]*)"`).exec(form)?.[1] ?? "";
}

interface PublishRow {
  readonly version: number;
  readonly kind: string;
  readonly why: string;
  readonly sentence: string;
  readonly plans: number;
  readonly calls: number;
  readonly withdrawn: number;
  readonly untouched: number;
  readonly undoneBy: number | null;
}

async function listWrong(database: Database, done: readonly string[]): Promise<readonly string[]> {
  const rows = await database.query<PublishRow>(
    `select change.version, change.kind, change.why, change.sentence, undoing.version as "undoneBy",
       (select count(*) from plan where company_version = change.version) as plans,
       (select count(*) from call_to_make where version = change.version) as calls,
       (select count(*) from call_to_make where version = change.version and withdrawn_by is not null) as withdrawn,
       (select count(*) from call_to_make
          where version = change.version and withdrawn_by is null and ticked_at is null) as untouched
     from change left join change undoing on undoing.undoes = change.version
     where change.kind in ('plan-published', 'undone') order by change.version`,
  );
  const wrong: string[] = [];
  for (const row of rows.filter(({ kind }) => kind === "plan-published")) {
    const said = Number(/(\d+) calls? to make/.exec(row.sentence)?.[1] ?? 0);
    if (row.calls !== said) wrong.push(`publish ${row.version} says ${said} calls and has ${row.calls}.`);
    if (row.plans === 0) wrong.push(`publish ${row.version} has no plan.`);
    if (row.undoneBy === null && row.withdrawn > 0)
      wrong.push(`publish ${row.version} stands, and calls of it are withdrawn.`);
    if (row.undoneBy !== null && row.untouched > 0)
      wrong.push(`publish ${row.version} is undone, and calls of it are open.`);
  }
  const whys = new Set(rows.map(({ why }) => why));
  wrong.push(
    ...done.filter((why) => !whys.has(why)).map((why) => `"${why}" was answered as done and is not there.`),
  );
  const [parts] = await database.query<{ same: boolean }>(
    `select (select body from part where kind = 'published') is not distinct from
       (select after -> 'published/only' -> 'body' from change where after ? 'published/only' order by version desc limit 1)
       as same`,
  );
  if (parts?.same !== true) wrong.push("what is published is not what the record says.");
  const [orphans] = await database.query<{ count: number }>(
    "select count(*) as count from call_to_make where version not in (select version from change)",
  );
  if ((orphans?.count ?? 0) > 0) wrong.push("there are calls of no change.");
  return wrong;
}

async function stop(app: ServedApp): Promise<void> {
  const errors = await stopApp(app);
  if (errors !== "") throw new Error(`the app said on its way out: ${errors}`);
}
