/**
 * The desk: what a change does to the file, to what is visible, and to the changes after it.
 */
import { mkdtemp, readFile, readdir, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { parseInstant, type Minute } from "../../src/domain/time.js";
import { present } from "../../src/domain/result.js";
import type { HoldInput } from "../../src/services/desk.js";
import { openFileDesk, type FileDeskOptions, type OpenDesk } from "../../src/services/file-desk.js";
import { realDisk, type Disk } from "../../src/store/disk.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";

const ZONE = "America/New_York";
const EVENING = at("2026-12-07T18:00");
const WET_DAY: HoldInput = {
  from: "2026-12-08T00:00",
  to: "2026-12-09T00:00",
  trades: "outdoor",
  jobs: "all",
  why: "rain",
};

let folder: string;
let path: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "daylap-desk-"));
  path = join(folder, "company.json");
  const tasks = [aTask({ id: "t1", trade: "siding", laborHours: 6 })];
  await writeFile(path, JSON.stringify(aCompany({ jobs: [aJob({ tasks })] })));
});
const opened: OpenDesk[] = [];
afterEach(async () => {
  await Promise.all(opened.splice(0).map((desk) => desk.close()));
  await rm(folder, { recursive: true, force: true });
});

describe("a hold that is added", () => {
  it("moves the work that it covers and is in the file", async () => {
    const desk = await openDesk();
    expect(startOfT1(desk)).toMatch(/^2026-12-08T/);
    expect(await desk.addHold(WET_DAY)).toEqual({ ok: true, value: undefined });
    expect(startOfT1(desk)).toMatch(/^2026-12-09T/);
    expect(await holdsInFile()).toEqual([{ id: "hold-1", ...WET_DAY, source: "hand" }]);
  });

  it("counts the version up by one", async () => {
    const desk = await openDesk();
    const before = desk.current().version;
    await desk.addHold(WET_DAY);
    expect(desk.current().version).toBe(before + 1);
  });

  it("adds to the file nothing but itself", async () => {
    const before: unknown = JSON.parse(await readFile(path, "utf8"));
    const desk = await openDesk();
    await desk.addHold(WET_DAY);
    const after: unknown = JSON.parse(await readFile(path, "utf8"));
    expect(after).toEqual(
      Object.assign({}, before, { holds: [{ id: "hold-1", ...WET_DAY, source: "hand" }] }),
    );
  });

  it("that ends before it starts is refused, with file and desk as they were", async () => {
    const desk = await openDesk();
    const before = { text: await readFile(path, "utf8"), state: desk.current() };
    const added = await desk.addHold({ ...WET_DAY, to: "2026-12-07T00:00" });
    expect(added.ok ? [] : added.error.map((fault) => fault.path)).toContain("holds[0].to");
    expect({ text: await readFile(path, "utf8"), state: desk.current() }).toEqual(before);
  });

  it("keeps what somebody has written into the file by hand in the meantime", async () => {
    const desk = await openDesk();
    const edited = { ...aCompany({ jobs: [] }), holds: [{ id: "theirs", ...WET_DAY, source: "hand" }] };
    await writeFile(path, JSON.stringify(edited));
    await desk.addHold({ ...WET_DAY, from: "2026-12-10", to: "2026-12-11" });
    expect(desk.current().company.holds.map((hold) => hold.id)).toEqual(["theirs", "hold-1"]);
  });

  it("is refused when the file has been broken by hand in the meantime, and says where", async () => {
    const desk = await openDesk();
    const before = desk.current();
    await writeFile(path, "{ not json");
    const added = await desk.addHold(WET_DAY);
    expect(added.ok).toBe(false);
    expect(await readFile(path, "utf8")).toBe("{ not json");
    expect(desk.current()).toEqual(before);
  });
});

describe("a hold that is lifted", () => {
  it("is out of the file, and the work comes back to where it was", async () => {
    const desk = await openDesk();
    await desk.addHold(WET_DAY);
    expect(await desk.liftHold("hold-1")).toEqual({ ok: true, value: undefined });
    expect(startOfT1(desk)).toMatch(/^2026-12-08T/);
    expect(await holdsInFile()).toEqual([]);
  });

  it("that does not exist is refused by name", async () => {
    const desk = await openDesk();
    const lifted = await desk.liftHold("hold-9");
    expect(lifted).toEqual({
      ok: false,
      error: {
        kind: "no-such-hold",
        sentence: 'There is no hold "hold-9". It may have been lifted already; look at the list of holds.',
      },
    });
  });
});

describe("changes asked for at the same time", () => {
  it("are made one after another, none is lost, and every hold has an id of its own", async () => {
    const desk = await openDesk();
    const whys = ["one", "two", "three", "four", "five"];
    await Promise.all(whys.map((why) => desk.addHold({ ...WET_DAY, why })));
    const { holds } = desk.current().company;
    expect(holds.map((hold) => hold.why)).toEqual(whys);
    expect(new Set(holds.map((hold) => hold.id)).size).toBe(whys.length);
    expect(await holdsInFile()).toHaveLength(whys.length);
  });

  it("go on after one that failed", async () => {
    const desk = await openDesk();
    const [bad, good] = await Promise.all([
      desk.addHold({ ...WET_DAY, trades: ["no-such-trade"] }),
      desk.addHold(WET_DAY),
    ]);
    expect([bad.ok, good.ok]).toEqual([false, true]);
    expect(desk.current().company.holds).toHaveLength(1);
  });
});

describe("a write that fails", () => {
  const failing: readonly (readonly [string, Partial<Disk>])[] = [
    [
      "half way through the text",
      {
        async writeNew(file, text, mode) {
          await realDisk.writeNew(file, text.slice(0, text.length / 2), mode);
          throw Object.assign(new Error("disk full"), { code: "ENOSPC" });
        },
      },
    ],
    [
      "at the change of names",
      { rename: () => Promise.reject(Object.assign(new Error("broken"), { code: "EIO" })) },
    ],
  ];
  it.each(failing)(
    "%s leaves the file, its folder and the desk as they were, and says so",
    async (_, broken) => {
      const before = await readFile(path, "utf8");
      const desk = await openDesk({ disk: { ...realDisk, ...broken } });
      const state = desk.current();
      const added = await desk.addHold(WET_DAY);
      expect(added.ok ? "" : added.error[0]?.sentence).toMatch(
        /could not be written: .* Nothing has been changed\.$/,
      );
      expect(await readFile(path, "utf8")).toBe(before);
      expect(await readdir(folder)).toEqual(["company.json"]);
      expect(desk.current()).toEqual(state);
    },
  );

  it("does not stand in the way of the next change", async () => {
    let full = true;
    const disk: Disk = {
      ...realDisk,
      writeNew: (...args) => (full ? Promise.reject(new Error("disk full")) : realDisk.writeNew(...args)),
    };
    const desk = await openDesk({ disk });
    expect((await desk.addHold(WET_DAY)).ok).toBe(false);
    full = false;
    expect((await desk.addHold(WET_DAY)).ok).toBe(true);
  });
});

describe("the desk's day", () => {
  it("is the company's date, not Greenwich's", async () => {
    const desk = await openDesk({ clock: () => at("2026-12-07T22:00") });
    expect(desk.current().today).toBe("2026-12-07");
  });

  it("is planned anew when the date turns, as a new version", async () => {
    let now: Minute = EVENING;
    const desk = await openDesk({ clock: () => now });
    now = at("2026-12-07T23:59");
    expect(desk.current().version).toBe(1);
    now = at("2026-12-08T00:00");
    expect(desk.current()).toMatchObject({ version: 1, today: "2026-12-08", nowMinute: now });
    await vi.waitUntil(() => desk.current().version === 2);
    expect(desk.current()).toMatchObject({ version: 2, today: "2026-12-08", planning: null });
    expect(desk.current().plan.asOf).toBe("2026-12-08T00:00:00-05:00");
  });
});

it("a company file that is reached through a link is changed where it lies, and the link stays", async () => {
  const link = join(folder, "link.json");
  await symlink(path, link);
  const desk = await openDesk({ path: link });
  await desk.addHold(WET_DAY);
  expect(await holdsInFile()).toHaveLength(1);
  expect((await readdir(folder)).toSorted()).toEqual(["company.json", "link.json"]);
});

async function openDesk(options: Partial<FileDeskOptions> = {}): Promise<OpenDesk> {
  const desk = await openFileDesk({ path, seed: 1, iterations: 0, clock: () => EVENING, ...options });
  if (!desk.ok) throw new Error(JSON.stringify(desk.error));
  opened.push(desk.value);
  return desk.value;
}

function startOfT1(desk: OpenDesk): string {
  return present(
    desk.current().plan.tasks.find((task) => task.task === "t1"),
    "t1 in the plan",
  ).start;
}

async function holdsInFile(): Promise<unknown> {
  const file = JSON.parse(await readFile(path, "utf8")) as { holds?: unknown };
  return file.holds;
}

function at(text: string): Minute {
  return present(parseInstant(text, ZONE), `the time ${text}`);
}
