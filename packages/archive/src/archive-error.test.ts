import { expect, test } from "vitest";
import { ArchiveError, inWords } from "./archive-error.ts";

const coded = (code: string) => Object.assign(new Error(code), { code });

test.each([
  ["SQLITE_FULL", "full"],
  ["SQLITE_READONLY", "read-only"],
  ["SQLITE_READONLY_DBMOVED", "read-only"],
  ["SQLITE_CORRUPT", "damaged"],
  ["SQLITE_NOTADB", "not-an-archive"],
  ["SQLITE_IOERR_WRITE", "disk"],
  ["SQLITE_BUSY", "in-use"],
  ["SQLITE_CONSTRAINT_TRIGGER", "append-only"],
])("%s is told in words with a remedy, and the cause is kept", (code, fault) => {
  const cause = coded(code);
  const told = inWords(cause) as ArchiveError;
  expect(told).toBeInstanceOf(ArchiveError);
  expect(told.fault).toBe(fault);
  expect(told.message.endsWith(told.remedy)).toBe(true);
  expect(told.cause).toBe(cause);
});

test.each([
  [coded("SQLITE_ERROR")],
  [new Error("a slip in the program")],
  ["no error"],
  [new ArchiveError("full", "a.", "b.")],
])("an error that is not the database's, or is in words already, stays as it is: %s", (error) => {
  expect(inWords(error)).toBe(error);
});
