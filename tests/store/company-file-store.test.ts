/**
 * The company file on disk: what reading says about files that are no good, and what replacing one never does.
 */
import { chmod, mkdir, mkdtemp, readFile, readdir, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { readCompanyFile, replaceCompanyFile, toCompanyText } from "../../src/store/company-file-store.js";
import { realDisk } from "../../src/store/disk.js";
import { aCompany } from "../support/company-builder.js";

let folder: string;
let path: string;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "daylap-store-"));
  path = join(folder, "company.json");
});
afterEach(() => rm(folder, { recursive: true, force: true }));

describe("reading", () => {
  it("gives the company and the JSON that it was written as, defaults left out", async () => {
    const source = aCompany();
    await writeFile(path, toCompanyText(source));
    const read = await readCompanyFile(path);
    expect(read.ok && read.value.source).toEqual(source);
    expect(read.ok && read.value.company.policy.openNights).toBe(0);
  });

  it("takes a byte order mark for nothing", async () => {
    await writeFile(path, `\uFEFF${toCompanyText(aCompany())}`);
    expect((await readCompanyFile(path)).ok).toBe(true);
  });

  it("names a file that is not there", async () => {
    expect(await readCompanyFile(path)).toEqual({
      ok: false,
      error: {
        kind: "unreadable",
        path,
        sentence: `The company file ${path} cannot be read: there is no such file.`,
      },
    });
  });

  it("says so when a folder is given for a file", async () => {
    await mkdir(path);
    const read = await readCompanyFile(path);
    expect(read.ok ? "" : read.error.kind === "unreadable" && read.error.sentence).toContain(
      "it is a folder",
    );
  });

  it("hands on every fault of the content", async () => {
    await writeFile(path, JSON.stringify({ ...aCompany(), crews: [], colour: "red", format: "other" }));
    const read = await readCompanyFile(path);
    const faults = read.ok || read.error.kind !== "faulty" ? [] : read.error.faults;
    expect(faults.map((fault) => fault.path)).toEqual(expect.arrayContaining(["format", "colour"]));
  });
});

describe("replacing", () => {
  it("puts the whole new text in place and leaves nothing beside it", async () => {
    await writeFile(path, "old");
    expect(await replaceCompanyFile(path, "new")).toEqual({ ok: true, value: undefined });
    expect(await readFile(path, "utf8")).toBe("new");
    expect(await readdir(folder)).toEqual(["company.json"]);
  });

  it("keeps the file's permissions", async () => {
    await writeFile(path, "old");
    await chmod(path, 0o640);
    await replaceCompanyFile(path, "new");
    expect((await stat(path)).mode & 0o777).toBe(0o640);
  });

  it("forces the new text to the disk before it takes the old one's name, and the folder after", async () => {
    await writeFile(path, "old");
    const steps: string[] = [];
    await replaceCompanyFile(path, "new", {
      ...realDisk,
      async writeNew(...args) {
        await realDisk.writeNew(...args);
        steps.push("written and forced");
      },
      async rename(from, to) {
        await realDisk.rename(from, to);
        steps.push("renamed");
      },
      async syncFolder(at) {
        await realDisk.syncFolder(at);
        steps.push("folder forced");
      },
    });
    expect(steps).toEqual(["written and forced", "renamed", "folder forced"]);
  });

  it("does not make a file that is not there", async () => {
    const written = await replaceCompanyFile(path, "new");
    expect(written.ok ? "" : written.error.sentence).toBe(
      `The company file ${path} could not be written: there is no such file. Nothing has been changed.`,
    );
    expect(await readdir(folder)).toEqual([]);
  });
});
