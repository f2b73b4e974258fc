import { createPrivateKey, createPublicKey, webcrypto } from "node:crypto";
import { argon2id } from "@noble/hashes/argon2.js";
import canonicalize from "canonicalize";
import { expect, test } from "vitest";
import { CHEAP } from "../testing/people.ts";
import { isPassphraseOf, newPerson, signAs, withPassphrase } from "./personal-key.ts";

const named = { id: "j.doe", name: "J. Doe (invented)" };
const passphrase = "four words are enough";
const bytes = new TextEncoder().encode("a statement");
const hex = (text: string) => new Uint8Array(Buffer.from(text, "hex"));

test("PEOPLE-2: the right passphrase opens a person's key, and no other", async () => {
  const person = await newPerson(named, passphrase, CHEAP);
  expect(await isPassphraseOf(person, passphrase)).toBe(true);
  for (const wrong of ["", "Four words are enough", `${passphrase} `]) {
    expect(await isPassphraseOf(person, wrong)).toBe(false);
    await expect(signAs(person, wrong, bytes)).rejects.toMatchObject({ fault: "wrong-passphrase" });
    await expect(withPassphrase(person, wrong, "new", CHEAP)).rejects.toMatchObject({ fault: "wrong-passphrase" });
  }
});

test("PEOPLE-2: a passphrase typed with composed or decomposed letters is the same", async () => {
  const person = await newPerson(named, "café de la gare", CHEAP);
  expect(await isPassphraseOf(person, "cafe\u0301 de la gare")).toBe(true);
});

test("PEOPLE-2: the lock is argon2id (RFC 9106) and AES-256-GCM: other libraries open it by its numbers alone", async () => {
  // Outside values: argon2id of @noble/hashes, AES-GCM of the platform's Web Cryptography
  const person = await newPerson(named, passphrase, { memory_KiB: 256, passes: 2, lanes: 4 });
  const { lock, key, publicKey } = person;
  const derived = argon2id(passphrase, hex(lock.salt), {
    t: lock.passes,
    m: lock.memory_KiB,
    p: lock.lanes,
    dkLen: 32,
  });
  const opener = await webcrypto.subtle.importKey("raw", new Uint8Array(derived), "AES-GCM", false, ["decrypt"]);
  const additionalData = new TextEncoder().encode(canonicalize({ id: "j.doe", publicKey }));
  const plain = await webcrypto.subtle.decrypt(
    { name: "AES-GCM", iv: hex(key.nonce), additionalData, tagLength: 128 },
    opener,
    hex(key.sealed + key.tag),
  );
  const privateKey = createPrivateKey({ key: Buffer.from(plain), type: "pkcs8", format: "der" });
  const { x } = createPublicKey(privateKey).export({ format: "jwk" });
  expect(Buffer.from(x!, "base64url").toString("hex")).toBe(publicKey);
});

test("PEOPLE-2: unless told otherwise a try costs what RFC 9106 recommends: 64 MiB, three passes, four lanes", async () => {
  const { lock } = await newPerson(named, passphrase);
  expect(lock).toMatchObject({ function: "argon2id", version: 19, memory_KiB: 65_536, passes: 3, lanes: 4 });
  expect(lock.salt).toHaveLength(32);
});

test("PEOPLE-2: two people with one passphrase share neither salt nor key", async () => {
  const [a, b] = [await newPerson(named, passphrase, CHEAP), await newPerson(named, passphrase, CHEAP)];
  expect(a.lock.salt).not.toBe(b.lock.salt);
  expect(a.publicKey).not.toBe(b.publicKey);
});

test("PEOPLE-2: a wrapped key put into another's row, or altered in one digit, does not open", async () => {
  const person = await newPerson(named, passphrase, CHEAP);
  const flip = (text: string) => (text.startsWith("0") ? "1" : "0") + text.slice(1);
  const { key, lock } = person;
  for (const altered of [
    { ...person, id: "m.two" },
    { ...person, publicKey: flip(person.publicKey) },
    { ...person, key: { ...key, sealed: flip(key.sealed) } },
    { ...person, key: { ...key, tag: flip(key.tag) } },
    { ...person, key: { ...key, nonce: flip(key.nonce) } },
    { ...person, lock: { ...lock, salt: flip(lock.salt) } },
    { ...person, lock: { ...lock, passes: 2 } },
  ])
    expect(await isPassphraseOf(altered, passphrase)).toBe(false);
});

test("PEOPLE-4: of somebody who is not there a passphrase takes as long to be refused", async () => {
  const person = await newPerson(named, passphrase);
  const time = async (work: () => Promise<unknown>) => {
    const begin = performance.now();
    await work();
    return performance.now() - begin;
  };
  const there = await time(async () => isPassphraseOf(person, "wrong"));
  const absent = await time(async () => {
    expect(await isPassphraseOf(undefined, "wrong")).toBe(false);
  });
  expect(absent).toBeGreaterThan(there / 10); // without the derivation it is a thousandth
});
