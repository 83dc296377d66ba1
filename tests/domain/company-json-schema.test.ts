/** The generated JSON Schema, read back by an independent path: JSON text → schema → validator. */
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { companyJsonSchema } from "../../src/domain/company-json-schema.js";
import { edited, OUT, TASK, validFile } from "../support/valid-file.js";

describe("the JSON Schema of a company file", () => {
  const schema: unknown = JSON.parse(JSON.stringify(companyJsonSchema()));
  const validator = z.fromJSONSchema(schema as Parameters<typeof z.fromJSONSchema>[0]);

  it("has a title and says what it is", () => {
    expect(schema).toMatchObject({
      $schema: "https://json-schema.org/draft/2020-12/schema",
      title: "Daylap company file (daylap-company/1)",
      description: expect.stringContaining("unknown fields are refused"),
    });
  });

  it("accepts a valid file, in which fields with a default are left out", () => {
    expect(validator.safeParse(validFile()).success).toBe(true);
  });

  it.each([
    ["an unknown field at the top", "colour", "red"],
    ["an unknown field in a task", `${TASK}.labourHours`, 6],
    ["an unknown field in the policy", "policy", { colour: "red" }],
    ["another format", "format", "daylap-company/2"],
    ["a crew of 0", "crews.0.size", 0],
    ["a latitude out of range", "jobs.0.site.lat", 91],
    ["a promised date that is none", "jobs.0.promised", "soon"],
    ["a file without trades", "trades", OUT],
  ])("refuses %s", (_what, path, value) => {
    expect(validator.safeParse(edited([[path, value]])).success).toBe(false);
  });

  it("leaves no object open to unknown fields", () => {
    expect(listOpenObjects(schema, "#")).toEqual([]);
  });
});

/** The places of objects with named fields that do not say `additionalProperties: false`. */
function listOpenObjects(node: unknown, at: string): string[] {
  if (typeof node !== "object" || node === null) return [];
  const isOpen =
    "properties" in node &&
    "type" in node &&
    !("additionalProperties" in node && node.additionalProperties === false);
  const below = Object.entries(node).flatMap(([key, child]) => listOpenObjects(child, `${at}/${key}`));
  return isOpen ? [at, ...below] : below;
}
