import { homedir } from "node:os";
import { join, resolve } from "node:path";
import { isLoopback, LOOPBACK_NAMES } from "../security/hosts.ts";

/** Where the workbench listens when nothing is said. */
export const DEFAULT_PORT = 4270;

/** What the environment says of how to serve. */
export interface Settings {
  /** The folder of the archive. */
  readonly home: string;
  readonly host: string;
  readonly port: number;
  /** What people open: of a server that others reach, https and a name. */
  readonly url?: string;
  /** Files with key and certificate. */
  readonly tls?: { readonly key: string; readonly cert: string };
  /** The address of the proxy in front. */
  readonly proxy?: string;
  /** What the header Host may name. */
  readonly hosts: readonly string[];
  /** A campaign folder that is taken into an archive that holds nothing. */
  readonly takeIn?: string;
}

/** Settings that cannot be: what is wrong, and how it is put right. */
export class SettingsError extends Error {
  override readonly name = "SettingsError";
}

/**
 * Reads the settings from the environment: `ALCEDO_HOME`, `HOST`, `PORT`, `ALCEDO_URL`, `ALCEDO_TLS_KEY`, `ALCEDO_TLS_CERT`,
 * `ALCEDO_PROXY`, `ALCEDO_TAKE_IN`. An empty one is as good as none.
 *
 * @throws SettingsError, above all for an address that others reach without anybody seeing to the encryption
 */
export function settingsFrom(env: Readonly<Record<string, string | undefined>>): Settings {
  const said = (name: string) => (env[name]?.trim() ? env[name].trim() : undefined);
  const home = resolve(said("ALCEDO_HOME") ?? join(homedir(), "alcedo"));
  const host = said("HOST") ?? "127.0.0.1";
  const port = portOf(said("PORT"));
  const url = urlOf(said("ALCEDO_URL"));
  const [key, cert] = [said("ALCEDO_TLS_KEY"), said("ALCEDO_TLS_CERT")];
  const proxy = said("ALCEDO_PROXY");
  const takeIn = said("ALCEDO_TAKE_IN");
  if ((key === undefined) !== (cert === undefined)) {
    throw new SettingsError(
      "ALCEDO_TLS_KEY and ALCEDO_TLS_CERT belong together: give both files, or neither for a server on this machine alone.",
    );
  }
  if (!isLoopback(host)) requireProtection(host, url, key !== undefined, proxy);
  const names = url === undefined ? LOOPBACK_NAMES : [...LOOPBACK_NAMES, url.hostname];
  return {
    ...{ home, host, port, hosts: [...new Set(names)] },
    ...(url !== undefined && { url: url.origin }),
    ...(key !== undefined && cert !== undefined && { tls: { key, cert } }),
    ...(proxy !== undefined && { proxy }),
    ...(takeIn !== undefined && { takeIn: resolve(takeIn) }),
  };
}

function requireProtection(host: string, url: URL | undefined, tls: boolean, proxy: string | undefined) {
  if (url !== undefined && (tls || proxy !== undefined)) return;
  throw new SettingsError(
    `HOST=${host} can be reached from other machines, where passphrases and readings would pass unencrypted. Either leave HOST out (this machine alone), or set ALCEDO_URL to the https address that people open, and one of these: ALCEDO_TLS_KEY and ALCEDO_TLS_CERT, the files of key and certificate; or ALCEDO_PROXY, the IP address of a proxy that speaks HTTPS in front of Alcedo.`,
  );
}

function portOf(text: string | undefined): number {
  if (text === undefined) return DEFAULT_PORT;
  const port = /^\d{1,5}$/.test(text) ? Number(text) : 65_536;
  if (port > 65_535)
    throw new SettingsError(`PORT=${text} is no port: give a number from 1 to 65535, or 0 for any that is free.`);
  return port;
}

function urlOf(text: string | undefined): URL | undefined {
  if (text === undefined) return undefined;
  const url = URL.canParse(text) ? new URL(text) : undefined;
  if (url?.protocol === "https:" && url.pathname === "/" && url.search === "" && url.username === "") return url;
  throw new SettingsError(
    `ALCEDO_URL=${text} is not what people open: write it as https://alcedo.example, without a path.`,
  );
}
