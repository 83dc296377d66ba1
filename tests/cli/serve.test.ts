/**
 * `daylap serve`, as a process: it says where it is, answers there, keeps what is changed, and stops when it is asked to.
 */
import { mkdir, mkdtemp, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { present } from "../../src/domain/result.js";
import { runDaylap, startCommand, waitForOutput } from "../support/command.js";
import { aCompany } from "../support/company-builder.js";
import { makeServerFolder, removeServerFolder } from "../support/server-folder.js";

const AS_OF = ["--as-of", "2026-12-07T18:00", "--port", "0"];
const DEMO = ["serve", "--demo", ...AS_OF];

let folder: string;
beforeEach(async () => {
  folder = await makeServerFolder();
});
afterEach(async () => {
  // Where a test failed half way, its servers may still run.
  for (const name of ["data", "other"]) await removeServerFolder(join(folder, name));
  await rm(folder, { recursive: true, force: true });
  await rm(`${folder}-file`, { recursive: true, force: true });
});

describe("daylap serve --demo", () => {
  it("prints an address that answers, ends well on SIGINT, and leaves nothing behind where no folder is named", async () => {
    const { child, ended } = startCommand(DEMO);
    const [, url = "", path = ""] = await waitForOutput(
      child,
      ended,
      /Daylap is at (http:\S+)\nDatabase: folder (\S+)\n/,
    );
    const answer = await fetch(url);
    expect(answer.status).toBe(200);
    await answer.text();
    expect(await readdir(path)).not.toEqual([]);
    child.kill("SIGINT");
    expect(await ended).toMatchObject({ code: 0, err: "" });
    await expect(readdir(path)).rejects.toThrow("ENOENT");
  });

  it("ends well on SIGTERM with the streams of open pages, and does not wait for who listens", async () => {
    const { child, ended } = startCommand(DEMO);
    const [, url = ""] = await waitForOutput(child, ended, /Daylap is at (http:\S+)\n/);
    const { body } = await fetch(new URL("/live", url));
    let text = "";
    for await (const part of present(body, "a stream").pipeThrough(new TextDecoderStream())) {
      text += part;
      if (text.includes("event: now")) child.kill("SIGTERM");
    }
    // The server has ended it; cut off after the grace, it would be an error.
    expect(text).toMatch(/^retry: \d+\n\nevent: now\n/);
    expect(await ended).toMatchObject({ code: 0, err: "" });
  });

  it("is not served to others, for it signs everybody in", async () => {
    const { code, out, err } = await runDaylap(...DEMO, "--host", "0.0.0.0");
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toBe(
      "The demo signs everybody in, so it is served to this machine only: leave --host out.\n",
    );
  });

  it("does not go with a company file", async () => {
    expect(await runDaylap(...DEMO, "--file", "company.json")).toMatchObject({ code: 2, out: "" });
  });

  it("says so where the port is taken, and ends with 2", async () => {
    const other = createServer();
    const port = await new Promise<number>((resolve) => {
      other.listen(0, "127.0.0.1", () => {
        const address = other.address();
        resolve(typeof address === "object" && address !== null ? address.port : 0);
      });
    });
    const { code, out, err } = await runDaylap("serve", "--demo", "--port", String(port));
    other.close();
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toBe(
      `Port ${port} is taken by another program. Choose another with --port, or --port 0 for any free one.\n`,
    );
  });
});

describe("daylap serve", () => {
  const serveFolder = (): readonly string[] => ["serve", "--data", join(folder, "data"), ...AS_OF];

  it("loads a company file into a new folder, and prints a link for its owner that opens", async () => {
    const path = await writeCompany();
    const { child, ended } = startCommand([...serveFolder(), "--file", path]);
    const [, link = ""] = await waitForOutput(child, ended, /set a password:\n {2}(http:\S+)\n/);
    expect((await fetch(link)).status).toBe(200);
    expect((await fetch(new URL("/", link), { redirect: "manual" })).headers.get("location")).toBe(
      "/sign-in",
    );
    child.kill("SIGTERM");
    expect(await ended).toMatchObject({ code: 0 });
    expect(await backUp()).toContain('"name": "Kelp Street Exteriors"');
  });

  it("leaves a company that is there as it is, whatever file is named later, and goes by its clock", async () => {
    await startAndStop([...serveFolder(), "--file", await writeCompany()]);
    const elsewhere = await writeCompany("Another Company", "Pacific/Honolulu");
    const early = ["--as-of", "2026-12-09T01:30", "--port", "0"];
    await startAndStop(["serve", "--data", join(folder, "data"), ...early, "--file", elsewhere]);
    const kept = await backUp();
    expect(kept).not.toContain("Another Company");
    expect(kept).toContain(String.raw`\"asOf\":\"2026-12-09T01:30:00-05:00\"`);
  });

  it("logs answers as JSON on standard error, without addresses or names", async () => {
    const { child, ended } = startCommand([...serveFolder(), "--file", await writeCompany()]);
    const [, url = ""] = await waitForOutput(child, ended, /Daylap is at (http:\S+)\n/);
    await fetch(new URL("/jobs/secret-house", url), { redirect: "manual" });
    child.kill("SIGTERM");
    const { err } = await ended;
    const lines = err
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line) as Record<string, unknown>);
    expect(lines).toMatchObject([{ msg: "answered", method: "GET", status: 303 }]);
    expect(err).not.toContain("secret-house");
  });

  it("says so where the address is none of this machine", async () => {
    const { code, out, err } = await runDaylap(...serveFolder(), "--host", "192.0.2.1");
    expect({ code, out }).toEqual({ code: 2, out: "" });
    expect(err).toBe('"192.0.2.1" is no address of this machine. Choose another with --host.\n');
  });

  it("tells every fault of the company file, and makes no folder", async () => {
    const path = await writeCompany(7);
    const { code, err } = await runDaylap(...serveFolder(), "--file", path);
    expect(code).toBe(2);
    expect(err).toContain("company.name");
    expect(await readdir(folder)).toEqual([]);
  });
});

describe("daylap backup and daylap restore", () => {
  it("bring a company from one folder to another", async () => {
    await startAndStop(["serve", "--data", join(folder, "data"), ...AS_OF, "--file", await writeCompany()]);
    const files = await mkdtemp(join(tmpdir(), "daylap-backup-"));
    try {
      const path = join(files, "backup.json");
      expect(await runDaylap("backup", path, "--data", join(folder, "data"))).toMatchObject({
        code: 0,
        err: "",
      });
      expect(await runDaylap("backup", path, "--data", join(folder, "data"))).toMatchObject({
        code: 2,
        out: "",
      });
      const restored = await runDaylap("restore", path, "--data", join(folder, "other"));
      expect(restored).toMatchObject({ code: 0, err: "" });
      const twice = await runDaylap("restore", path, "--data", join(folder, "other"));
      expect(twice).toMatchObject({ code: 2, out: "" });
      expect(twice.err).toContain("--replace");
    } finally {
      await rm(files, { recursive: true, force: true });
    }
  });

  it("back up a company while it is served", async () => {
    const { child, ended } = startCommand([
      "serve",
      "--data",
      join(folder, "data"),
      ...AS_OF,
      "--file",
      await writeCompany(),
    ]);
    await waitForOutput(child, ended, /Stop it with/);
    expect(await backUp()).toContain("Kelp Street Exteriors");
    child.kill("SIGTERM");
    expect(await ended).toMatchObject({ code: 0 });
  });

  it("say so where there is no company to back up", async () => {
    const { code, err } = await runDaylap("backup", join(folder, "b.json"), "--data", join(folder, "data"));
    expect(code).toBe(2);
    expect(err).toMatch(/^There is no company in folder .*, so no file was written\.\n$/);
  });
});

async function startAndStop(args: readonly string[]): Promise<void> {
  const { child, ended } = startCommand(args);
  await waitForOutput(child, ended, /Stop it with/);
  child.kill("SIGTERM");
  expect(await ended).toMatchObject({ code: 0 });
}

async function writeCompany(
  name: unknown = "Kelp Street Exteriors",
  timeZone = "America/New_York",
): Promise<string> {
  const path = join(`${folder}-file`, "company.json");
  await mkdir(dirname(path), { recursive: true });
  const company = aCompany();
  await writeFile(path, JSON.stringify({ ...company, company: { ...company.company, name, timeZone } }));
  return path;
}
async function backUp(): Promise<string> {
  const path = join(`${folder}-file`, "backup.json");
  expect(await runDaylap("backup", path, "--data", join(folder, "data"))).toMatchObject({ code: 0 });
  return readFile(path, "utf8");
}

describe("on a folder that is served, too", () => {
  it("daylap replay makes a kept plan again, and daylap owner-link lets an owner set a password", async () => {
    const data = ["--data", join(folder, "data")];
    const { child, ended } = startCommand(["serve", ...data, ...AS_OF, "--file", await writeCompany()]);
    const [, link = ""] = await waitForOutput(child, ended, /set a password:\n {2}(http:\S+)\n/);
    expect(await runDaylap("replay", "1", ...data)).toEqual({
      code: 0,
      out: "Plan 1 came out the same, to the byte.\n",
      err: "",
    });
    expect(await runDaylap("replay", "99", ...data)).toMatchObject({ code: 2, out: "" });
    expect(await runDaylap("replay", "first", ...data)).toMatchObject({ code: 2, out: "" });
    expect((await runDaylap("owner-link", "robin", ...data)).err).toMatch(/^There is no owner yet /);
    const password = "sparrow lantern gravel";
    const fields = { name: "Robin", account: "robin", password, again: password };
    const headers = { origin: new URL(link).origin };
    await fetch(link, { method: "POST", body: new URLSearchParams(fields), headers, redirect: "manual" });
    expect((await runDaylap("owner-link", "casey", ...data)).err).toContain(
      'No owner has the account "casey"',
    );
    const { out } = await runDaylap("owner-link", "Robin", ...data);
    const path = /^ {2}(\/invitation\/\S+)$/m.exec(out)?.[1] ?? "none";
    expect((await fetch(new URL(path, link))).status).toBe(200);
    child.kill("SIGTERM");
    expect(await ended).toMatchObject({ code: 0 });
  });
});
