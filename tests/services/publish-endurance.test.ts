/** A publish is all of it or nothing, whenever the app dies. `npm run bench -- --set store` asks the same 100 times. */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { Random } from "../../src/planner/core/random.js";
import { makeTestDatabase } from "../support/database.js";
import { PUBLISHED_COMPANY } from "../support/published-company.js";
import { runPublishKillRounds } from "../support/publish-kill-rounds.js";

it("an app that is killed while somebody publishes leaves no publish half done, and loses none that it answered", async () => {
  const folder = await mkdtemp(join(tmpdir(), "daylap-publish-"));
  const testDatabase = await makeTestDatabase();
  try {
    const file = join(folder, "company.json");
    await writeFile(file, JSON.stringify(PUBLISHED_COMPANY));
    const { acknowledged, wrong } = await runPublishKillRounds(testDatabase.url, file, 5, new Random(1));
    expect(wrong).toEqual([]);
    expect(acknowledged).toBeGreaterThan(0);
  } finally {
    await testDatabase.drop();
    await rm(folder, { recursive: true, force: true });
  }
});
