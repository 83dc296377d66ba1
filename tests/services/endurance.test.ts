/** What is acknowledged outlives any death. `npm run bench -- --set store` asks the same for longer. */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, it } from "vitest";
import { Random } from "../../src/planner/core/random.js";
import { aCompany, aJob, aTask } from "../support/company-builder.js";
import { makeTestDatabase } from "../support/database.js";
import { runKillRounds } from "../support/kill-rounds.js";
import { runManyWriters } from "../support/many-writers.js";
import { makeServerFolder, removeServerFolder } from "../support/server-folder.js";

let files: string;
let file: string;
beforeEach(async () => {
  files = await mkdtemp(join(tmpdir(), "daylap-endurance-"));
  file = join(files, "company.json");
  await writeFile(file, JSON.stringify(aCompany({ jobs: [aJob({ tasks: [aTask({ id: "t1" })] })] })));
});
afterEach(() => rm(files, { recursive: true, force: true }));

it("an app that is killed while people write starts again with all that it had acknowledged", async () => {
  const folder = await makeServerFolder();
  try {
    const { acknowledged, lost } = await runKillRounds(folder, file, 6, new Random(1));
    expect(acknowledged).toBeGreaterThan(0);
    expect(lost).toEqual([]);
  } finally {
    await removeServerFolder(folder);
  }
});

it("two apps on one database, one of them killed half way, lose nothing and double nothing", async () => {
  const testDatabase = await makeTestDatabase();
  try {
    const { acknowledged, ...wrong } = await runManyWriters(testDatabase.url, file, 10, 4_000);
    expect(acknowledged).toBeGreaterThan(10);
    expect(wrong).toEqual({ lost: [], doubled: [], unrecorded: 0 });
  } finally {
    await testDatabase.drop();
  }
});
