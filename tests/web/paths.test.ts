/** The table of URLs. */
import { describe, expect, it } from "vitest";
import { paths } from "../../src/web/paths.js";

describe("a built address", () => {
  it("keeps what an id may hold from becoming part of the path", () => {
    expect(paths.job("a/../b?c#d")).toBe("/jobs/a%2F..%2Fb%3Fc%23d");
  });

  it("names the language only where it is not English", () => {
    expect(paths.crewDay("alder", "2026-12-08")).toBe("/crew/alder/2026-12-08");
    expect(paths.crewDay("alder", "2026-12-08", "es")).toBe("/crew/alder/2026-12-08?lang=es");
  });
});
