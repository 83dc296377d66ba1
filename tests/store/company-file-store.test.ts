/**
 * The company file on disk: what reading says about files that are no good, and what replacing one never does.
 */
import { mkdir, mkdtemp, readFile, readdir, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { readCompanyFile, toCompanyText, writeNewFile } from "../../src/store/company-file-store.js";
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

describe("writing a new file", () => {
  it("puts the whole text there, for its owner alone, and leaves nothing beside it", async () => {
    expect(await writeNewFile(path, "new")).toEqual({ ok: true, value: undefined });
    expect(await readFile(path, "utf8")).toBe("new");
    expect(await readdir(folder)).toEqual(["company.json"]);
    if (process.platform !== "win32") expect((await stat(path)).mode & 0o777).toBe(0o600);
  });

  it("forces the text to the disk before it takes its name, and the folder after", async () => {
    const steps: string[] = [];
    await writeNewFile(path, "new", {
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

  it("takes texts one after another, each asked for when the one before is written", async () => {
    const sizes: number[] = [];
    async function* twoTexts(): AsyncGenerator<string> {
      yield "one\n";
      const [beside = ""] = await readdir(folder);
      sizes.push((await stat(join(folder, beside))).size);
      yield "two\n";
    }
    expect(await writeNewFile(path, twoTexts())).toEqual({ ok: true, value: undefined });
    expect([sizes, await readFile(path, "utf8")]).toEqual([[4], "one\ntwo\n"]);
  });

  it("leaves a file alone that is there", async () => {
    await writeFile(path, "old");
    const written = await writeNewFile(path, "new");
    expect(written.ok ? "" : written.error).toBe(
      `The file ${path} exists already and was left as it is. Choose another name.`,
    );
    expect(await readFile(path, "utf8")).toBe("old");
  });

  it("says so where there is no such folder", async () => {
    const written = await writeNewFile(join(folder, "nowhere", "b.json"), "new");
    expect(written.ok ? "" : written.error).toMatch(/b\.json could not be written: there is no such file\.$/);
  });

  it("leaves nothing behind where the disk is full half way through the text", async () => {
    const written = await writeNewFile(path, "new", {
      ...realDisk,
      async writeNew(file, _text, mode) {
        await realDisk.writeNew(file, "n", mode);
        throw Object.assign(new Error("disk full"), { code: "ENOSPC" });
      },
    });
    expect(written.ok ? "" : written.error).toBe(`The file ${path} could not be written: the disk is full.`);
    expect(await readdir(folder)).toEqual([]);
  });
});
