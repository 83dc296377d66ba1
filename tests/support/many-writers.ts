/**
 * Many people who change one company at once through two app processes on one database, one of which is killed half way.
 * What was acknowledged must be there, once.
 */
import { setTimeout as sleep } from "node:timers/promises";
import { openDatabase } from "../../src/store/database.js";
import { Visitor } from "../web/visitor.js";
import { becomeOwner, killApp, serveApp, stopApp } from "./served-app.js";

export interface ManyWriters {
  readonly acknowledged: number;
  readonly lost: readonly string[];
  readonly doubled: readonly string[];
  /** Rows of the record less the versions of the company: 0 where each change has one row. */
  readonly unrecorded: number;
}

/** `url` names an empty database that has been migrated; `file` is a company file. */
export async function runManyWriters(
  url: string,
  file: string,
  writers: number,
  milliseconds: number,
): Promise<ManyWriters> {
  const env = { DATABASE_URL: url };
  const asOf = ["--as-of", "2026-12-07T18:00"];
  const first = await serveApp(["--file", file, ...asOf], env);
  const owner = await becomeOwner(first);
  const second = await serveApp(asOf, env);
  const kept: string[] = [];
  let isOver = false;
  const writing = Array.from({ length: writers }, (_, index) => {
    const visitor = new Visitor(index % 2 === 0 ? first : second);
    for (const cookie of owner.cookies) visitor.hold(cookie);
    // Whoever was on the app that died goes on with the other one.
    return write(visitor, `w${index}`, kept, () => isOver, second);
  });
  await sleep(milliseconds / 2);
  await killApp(first);
  await sleep(milliseconds / 2);
  isOver = true;
  await Promise.all(writing);
  await stopApp(second);
  return count(url, kept);
}

async function write(
  visitor: Visitor,
  name: string,
  kept: string[],
  isOver: () => boolean,
  refuge: { readonly url: string },
): Promise<void> {
  for (let number = 0; !isOver(); number += 1) {
    const why = `${name}n${number}`;
    try {
      const input = { from: "2027-03-01T08:00", to: "2027-03-01T09:00", trades: "outdoor", jobs: "all", why };
      const added = await visitor.post("/holds", input);
      if (added.status === 303) kept.push(why);
    } catch {
      visitor.moveTo(refuge);
    }
  }
}

async function count(url: string, kept: readonly string[]): Promise<ManyWriters> {
  const database = openDatabase(url);
  try {
    const rows = await database.query<{ why: string }>(
      "select body ->> 'why' as why from part where kind = 'hold' and body ->> 'why' like 'w%'",
    );
    const times = new Map<string, number>();
    for (const { why } of rows) times.set(why, (times.get(why) ?? 0) + 1);
    const [recorded] = await database.query<{ missing: number }>(
      "select (select version from company_state) - count(*) as missing from change",
    );
    return {
      acknowledged: kept.length,
      lost: kept.filter((why) => !times.has(why)),
      doubled: [...times].filter(([, number]) => number > 1).map(([why]) => why),
      unrecorded: recorded?.missing ?? Number.NaN,
    };
  } finally {
    await database.close();
  }
}
