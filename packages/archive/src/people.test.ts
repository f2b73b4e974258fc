import { expect, test } from "vitest";
import { audit } from "./audit.ts";
import { isPassphraseOf, newPerson, signAs, withPassphrase } from "./folder/index.ts";
import { historyOf } from "./history.ts";
import { keepPerson, people, personAt, revisePerson } from "./people.ts";
import { openTestArchive } from "./testing/archive-folder.ts";
import { CHEAP, passphraseOf, withPeople } from "./testing/people.ts";

test("PEOPLE-1: a person is kept as a revision, and listed by id without keys", async () => {
  const archive = await openTestArchive();
  const { measurer } = await withPeople(archive);
  expect(await people(archive)).toEqual([
    { id: "m.one", name: "M. One (invented)" },
    { id: "r.two", name: "R. Two (invented)" },
  ]);
  expect(await personAt(archive, "m.one")).toEqual({ revision: 1, person: measurer });
  expect(await personAt(archive, "nobody")).toBeUndefined();
  expect((await audit(archive)).faults).toEqual([]);
});

test("PEOPLE-1: an id is one person's", async () => {
  const archive = await openTestArchive();
  await withPeople(archive);
  const other = await newPerson({ id: "m.one", name: "Other" }, "another passphrase", CHEAP);
  await expect(keepPerson(archive, other, "invited")).rejects.toMatchObject({ fault: "exists" });
  await expect(revisePerson(archive, { ...other, id: "x" }, { after: 1, why: "?" })).rejects.toMatchObject({
    fault: "unknown",
  });
});

test("PEOPLE-2: no passphrase and no private key stands in the database", async () => {
  const archive = await openTestArchive();
  await withPeople(archive);
  const text = JSON.stringify(archive.file.rows("select * from revision"));
  expect(text).not.toContain("says something long");
  expect(text).toContain("aes-256-gcm");
});

test("PEOPLE-3: another passphrase is a revision; the key is the same, and the old passphrase opens it no more", async () => {
  const archive = await openTestArchive();
  const { measurer } = await withPeople(archive);
  const changed = await withPassphrase(measurer, passphraseOf("m.one"), "and now another one", CHEAP);
  await revisePerson(archive, changed, { after: 1, why: "passphrase changed" });
  const { person, revision } = (await personAt(archive, "m.one"))!;
  expect([revision, person.publicKey]).toEqual([3, measurer.publicKey]);
  expect(await isPassphraseOf(person, "and now another one")).toBe(true);
  expect(await isPassphraseOf(person, passphraseOf("m.one"))).toBe(false);
  const bytes = new Uint8Array([1, 2, 3]);
  expect(await signAs(person, "and now another one", bytes)).toBe(await signAs(measurer, passphraseOf("m.one"), bytes));
  expect((await historyOf(archive, "person", "m.one")).map(({ why }) => why)).toEqual([
    "invited",
    "passphrase changed",
  ]);
  expect((await audit(archive)).faults).toEqual([]);
});

test("PEOPLE-3: a change to a person who was changed meanwhile is refused, and so is another key", async () => {
  const archive = await openTestArchive();
  const { measurer, reviewer } = await withPeople(archive);
  const late = revisePerson(archive, { ...measurer, name: "M. O." }, { after: 0, why: "name" });
  await expect(late).rejects.toMatchObject({ fault: "conflict", revision: 1 });
  const swapped = { ...measurer, publicKey: reviewer.publicKey };
  await expect(revisePerson(archive, swapped, { after: 1, why: "key" })).rejects.toThrow(/cannot be replaced/);
});

test.each([{ id: " " }, { name: "" }, { publicKey: "00" }])("PEOPLE-1: a person with %o is refused", async (part) => {
  const archive = await openTestArchive();
  const person = await newPerson({ id: "x", name: "X" }, "a passphrase", CHEAP);
  await expect(keepPerson(archive, { ...person, ...part }, "invited")).rejects.toMatchObject({ fault: "invalid" });
});
