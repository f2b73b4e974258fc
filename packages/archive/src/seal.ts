import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";
import canonicalize from "canonicalize";
import type { RevisionTable } from "./schema.ts";

/** What stands before the first revision, in the place of a seal. */
export const FIRST_SEAL = "0".repeat(64);

/**
 * The seal of a revision: SHA-256 (FIPS 180-4) over the seal before it, in hexadecimal, and the canonical JSON (RFC 8785)
 * of everything that the row holds but the seal itself. Whoever knows one seal can tell that nothing before it was altered.
 *
 * @param previous the seal of the revision before, {@link FIRST_SEAL} for the first
 * @returns 64 hexadecimal digits
 * @throws Error when a text is not well-formed Unicode
 */
export function sealOf(previous: string, revision: Omit<RevisionTable, "seal">): string {
  const { seq, at, who, why, kind, subject, base, body } = revision;
  const text = canonicalize({ seq, at, who, why, kind, subject, base, body });
  return bytesToHex(sha256(utf8ToBytes(`${previous}${text}`)));
}

/** `sha256:` and the digest of a JSON value in canonical form, as campaigns have theirs. */
export function valueDigest(value: unknown): string {
  const text = canonicalize(value);
  if (text === undefined) throw new Error("only a JSON value has a digest");
  return `sha256:${bytesToHex(sha256(utf8ToBytes(text)))}`;
}
