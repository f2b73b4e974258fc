/**
 * People's keys: made, wrapped by a passphrase, and used. The only place that sees a passphrase or a private key; neither
 * is kept, and what it gives out is plain data.
 */
import {
  createCipheriv,
  createDecipheriv,
  createPrivateKey,
  createPublicKey,
  generateKeyPairSync,
  type KeyObject,
  randomBytes,
  sign,
} from "node:crypto";
import { hashRaw } from "@node-rs/argon2";
import canonicalize from "canonicalize";
import { ArchiveError } from "../archive-error.ts";
import type { PassphraseLock, Person } from "../person.ts";

/** What a passphrase costs to try. */
export type PassphraseCost = Pick<PassphraseLock, "memory_KiB" | "passes" | "lanes">;

/** RFC 9106, section 4, the second recommended choice: 64 MiB, three passes, four lanes. */
const COST: PassphraseCost = { memory_KiB: 65_536, passes: 3, lanes: 4 };

/** argon2id by its number in RFC 9106, and its version 1.3 by the library's. */
const [ARGON2ID, VERSION_19] = [2, 1];

/** Makes a person with a new key, wrapped by a passphrase. */
export async function newPerson(
  { id, name }: Pick<Person, "id" | "name">,
  passphrase: string,
  cost: PassphraseCost = COST,
): Promise<Person> {
  const { privateKey, publicKey } = generateKeyPairSync("ed25519");
  // behind a prefix of fixed length that says "Ed25519" (RFC 8410), the last 32 bytes are the key
  const raw = publicKey.export({ type: "spki", format: "der" }).subarray(-32);
  const named = { id, publicKey: raw.toString("hex") };
  return { id, name, publicKey: named.publicKey, ...(await wrap(named, privateKey, passphrase, cost)) };
}

/** Whether a passphrase is a person's. Of somebody who is not there it takes as long, and is not. */
export async function isPassphraseOf(person: Person | undefined, passphrase: string): Promise<boolean> {
  if (person !== undefined) return (await open(person, passphrase)) !== undefined;
  await derive(newLock(COST), passphrase);
  return false;
}

/**
 * Signs bytes with a person's key (Ed25519, RFC 8032).
 *
 * @returns 64 bytes in hexadecimal
 * @throws ArchiveError (`wrong-passphrase`)
 */
export async function signAs(person: Person, passphrase: string, bytes: Uint8Array): Promise<string> {
  return sign(null, bytes, await opened(person, passphrase)).toString("hex");
}

/**
 * The person with the same key under another passphrase, to be kept as a revision.
 *
 * @throws ArchiveError (`wrong-passphrase`)
 */
export async function withPassphrase(
  person: Person,
  passphrase: string,
  another: string,
  cost: PassphraseCost = COST,
): Promise<Person> {
  return { ...person, ...(await wrap(person, await opened(person, passphrase), another, cost)) };
}

async function opened(person: Person, passphrase: string): Promise<KeyObject> {
  const key = await open(person, passphrase);
  if (key !== undefined) return key;
  throw new ArchiveError("wrong-passphrase", `The passphrase is not that of ${person.id}.`, "Type it again.");
}

async function wrap(
  person: Pick<Person, "id" | "publicKey">,
  privateKey: KeyObject,
  passphrase: string,
  cost: PassphraseCost,
): Promise<Pick<Person, "lock" | "key">> {
  const lock = newLock(cost);
  const nonce = randomBytes(12);
  const cipher = createCipheriv("aes-256-gcm", await derive(lock, passphrase), nonce);
  cipher.setAAD(owner(person));
  const plain = privateKey.export({ type: "pkcs8", format: "der" });
  const sealed = Buffer.concat([cipher.update(plain), cipher.final()]).toString("hex");
  const tag = cipher.getAuthTag().toString("hex");
  return { lock, key: { cipher: "aes-256-gcm", nonce: nonce.toString("hex"), sealed, tag } };
}

/** The private key; undefined where the passphrase does not open it. */
async function open(person: Person, passphrase: string): Promise<KeyObject | undefined> {
  const { lock, key, publicKey } = person;
  const decipher = createDecipheriv("aes-256-gcm", await derive(lock, passphrase), hex(key.nonce), {
    authTagLength: 16,
  });
  decipher.setAAD(owner(person));
  decipher.setAuthTag(hex(key.tag));
  const plain = decipher.update(hex(key.sealed));
  if (!isAuthentic(decipher)) return undefined;
  const privateKey = createPrivateKey({ key: plain, type: "pkcs8", format: "der" });
  const own = createPublicKey(privateKey).export({ type: "spki", format: "der" }).subarray(-32).toString("hex");
  return own === publicKey ? privateKey : undefined;
}

function isAuthentic(decipher: { readonly final: () => Buffer }): boolean {
  try {
    decipher.final();
    return true;
  } catch {
    return false; // the one fault of an authenticated cipher: another key, or altered bytes
  }
}

function newLock(cost: PassphraseCost): PassphraseLock {
  return { function: "argon2id", version: 19, ...cost, salt: randomBytes(16).toString("hex") };
}

/** Composed and decomposed letters (é) are typed differently by different keyboards, and mean the same. */
async function derive({ memory_KiB, passes, lanes, salt }: PassphraseLock, passphrase: string): Promise<Buffer> {
  return hashRaw(passphrase.normalize("NFC"), {
    ...{ algorithm: ARGON2ID, version: VERSION_19, outputLen: 32, salt: hex(salt) },
    ...{ memoryCost: memory_KiB, timeCost: passes, parallelism: lanes },
  });
}

/** A wrapped key belongs to one person: put into another's row it does not open. */
function owner({ id, publicKey }: Pick<Person, "id" | "publicKey">): Buffer {
  return Buffer.from(canonicalize({ id, publicKey })!, "utf8");
}

function hex(text: string): Buffer {
  return Buffer.from(text, "hex");
}
