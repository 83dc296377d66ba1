/**
 * What PostgreSQL says when it does not start, in our sentences. The lines are those that PostgreSQL 18 prints
 * (its source: miscinit.c, pqcomm.c, pg_shmem, initdb, pg_ctl).
 */
import { describe, expect, it } from "vitest";
import { explainServerFailure } from "../../../src/store/embedded/server-failure.js";

const CASES = [
  ['FATAL:  could not write lock file "postmaster.pid": No space left on device', "final", "is full"],
  [
    'FATAL:  could not extend file "base/1/2691": wrote only 4096 of 8192 bytes at block 10',
    "final",
    "is full",
  ],
  ['initdb: error: could not create directory "/x/data/base": Disk quota exceeded', "final", "is full"],
  ["/bin/sh: 1: cannot create server.log: Read-only file system", "final", "is read-only"],
  ['FATAL:  data directory "/x/data" has wrong ownership', "final", "may not be opened by this user"],
  ["/bin/sh: 1: cannot create server.log: Permission denied", "final", "may not be opened by this user"],
  ['LOG:  could not bind IPv4 address "127.0.0.1": Address already in use', "port-taken", "network ports"],
  ['FATAL:  lock file "postmaster.pid" already exists', "busy", "does not end"],
  ["FATAL:  pre-existing shared memory block (key 1, ID 2) is still in use", "busy", "does not end"],
] as const;

describe("a server that does not start", () => {
  it.each(CASES)("%s", (words, kind, part) => {
    const failure = explainServerFailure(
      `LOG:  starting PostgreSQL 18.4\n${words}\npg_ctl: could not start server`,
      "/x",
    );
    expect(failure.kind).toBe(kind);
    expect(failure.sentence).toContain(part);
  });

  it("names its folder, unless the fault is not there", () => {
    for (const [words, kind] of CASES) {
      if (kind !== "port-taken") expect(explainServerFailure(words, "/x").sentence).toContain("/x");
    }
  });

  it("is told in PostgreSQL's words where they are not known, the telling lines only", () => {
    const output = "LOG:  starting\nFATAL:  configuration file contains errors\nExamine the log output.";
    expect(explainServerFailure(output, "/x")).toEqual({
      kind: "final",
      sentence:
        "The database in /x could not be started. PostgreSQL says: FATAL:  configuration file contains errors",
    });
  });

  it("is told even where nothing was said", () => {
    expect(explainServerFailure("", "/x").sentence).toBe(
      "The database in /x could not be started. PostgreSQL says: nothing",
    );
  });
});
