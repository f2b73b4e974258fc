/** How a key is derived from a passphrase: argon2id (RFC 9106) with these numbers. Texts of bytes are hexadecimal. */
export interface PassphraseLock {
  readonly function: "argon2id";
  readonly version: 19;
  readonly memory_KiB: number;
  readonly passes: number;
  readonly lanes: number;
  readonly salt: string;
}

/** A private key wrapped by the key that a passphrase gives (AES-256-GCM, NIST SP 800-38D). */
interface WrappedKey {
  readonly cipher: "aes-256-gcm";
  readonly nonce: string;
  readonly sealed: string;
  readonly tag: string;
}

/**
 * A person as a revision keeps them: plain data. Whoever has the passphrase, and nobody else, opens the key: that is also
 * how a passphrase is checked.
 */
export interface Person {
  /** Stands beside each change: `j.doe`. */
  readonly id: string;
  readonly name: string;
  /** Ed25519 (RFC 8032), 32 bytes in hexadecimal; for good. */
  readonly publicKey: string;
  readonly lock: PassphraseLock;
  readonly key: WrappedKey;
}
