/** Processes that answer one message at a time. */
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { askProcesses } from "./process-pool.js";

const folder = mkdtempSync(join(tmpdir(), "daylap-pool-"));
const script = join(folder, "doubles.mjs");
writeFileSync(
  script,
  `process.on("message", ({ value }) => {
     if (value === 3) process.exit(9);
     setTimeout(() => process.send({ value: value * 2 }), value === 1 ? 100 : 0);
   });`,
);
afterAll(() => rmSync(folder, { recursive: true }));

const askFor = (values: readonly number[], processes: number) =>
  askProcesses<{ readonly value: number }, number | string>(
    script,
    processes,
    values.map((value) => ({ value })),
    (reply) => (reply as { readonly value: number }).value,
    ({ value }, why) => `${value}: ${why}`,
  );

describe("a pool of processes", () => {
  it("answers in the order of the messages, whichever is ready first", async () => {
    expect(await askFor([1, 2, 4, 5], 2)).toEqual([2, 4, 8, 10]);
  });

  it("goes on with a new process where one dies, and says which message it died of", async () => {
    expect(await askFor([2, 3, 4], 1)).toEqual([4, "3: its process ended with 9", 8]);
  });
});
