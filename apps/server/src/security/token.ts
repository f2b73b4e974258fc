import { createHash, randomBytes } from "node:crypto";

/** A word that nobody guesses: 256 bits from the system, in 43 characters that stand in an address as they are. */
export function newToken(): string {
  return randomBytes(32).toString("base64url");
}

/** Under what a token is remembered: the token itself is nowhere in memory once it is handed out. */
export function tokenDigest(token: string): string {
  return createHash("sha256").update(token).digest("base64url");
}
