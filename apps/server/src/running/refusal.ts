import { ArchiveError } from "@alcedo-dosimetry/archive";
import { SettingsError } from "./settings.ts";

/**
 * Why a server does not start, in words for whoever started it.
 *
 * @returns undefined for a fault of the program itself
 */
export function refusal(
  error: unknown,
  { home, host, port }: { home: string; host: string; port: number },
): string | undefined {
  if (error instanceof SettingsError) return error.message;
  if (error instanceof ArchiveError) return `The archive in ${home} does not open. ${error.message}`;
  switch (codeOf(error)) {
    case "EADDRINUSE":
      return `Port ${port} is taken: another workbench may run there already (open http://127.0.0.1:${port}/), or another program. Stop it, or choose another port with PORT or --port.`;
    case "EACCES":
      return `Port ${port} may not be used by this account. Choose one above 1023 with PORT or --port.`;
    case "EADDRNOTAVAIL":
    case "ENOTFOUND":
    case "EAI_AGAIN":
      return `This machine has no address ${host}${host === "127.0.0.1" ? ": its loopback interface is down (on Linux: ip link set lo up)" : ""}. Leave HOST out, or give one of its own.`;
    case "ENOENT":
      return `A file is missing: ${error instanceof Error ? error.message : ""}.`;
    default:
      return undefined;
  }
}

function codeOf(error: unknown): string | undefined {
  return error instanceof Error && "code" in error && typeof error.code === "string" ? error.code : undefined;
}
