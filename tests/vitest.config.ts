/**
 * How the tests run, always through `--config tests/vitest.config.ts`.
 * One PostgreSQL server is started for the run. No focused test gets through, an empty run is a failure, and property
 * tests share the seed of property-seed.ts.
 */
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    root: fileURLToPath(new URL("..", import.meta.url)),
    include: ["tests/**/*.test.ts"],
    globalSetup: ["tests/support/database-server.ts"],
    setupFiles: ["tests/support/property-seed.ts"],
    // Loading every module again for each file is a tenth of the run; what a file makes, it takes away itself.
    isolate: false,
    allowOnly: false,
    passWithNoTests: false,
    // Much of the run waits for processes and databases: every core may have a file of its own.
    maxWorkers: availableParallelism(),
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
