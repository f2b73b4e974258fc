import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

const SIGNALS = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

/**
 * Runs the workbench's server as a process of its own until it ends; a word to stop goes on to it.
 *
 * @param server the built program
 * @param settings what its environment says besides this process's own
 * @returns its exit status; undefined where it is not built
 */
export async function serverProcess(
  server: URL,
  settings: Readonly<Record<string, string>>,
): Promise<number | undefined> {
  const file = fileURLToPath(server);
  if (!existsSync(file)) return undefined;
  const child = spawn(process.execPath, [file], { stdio: "inherit", env: { ...process.env, ...settings } });
  const pass = (signal: NodeJS.Signals) => child.kill(signal);
  for (const signal of SIGNALS) process.on(signal, pass);
  try {
    return await new Promise((done, fail) => {
      child.once("error", fail);
      child.once("close", (status) => done(status ?? 1));
    });
  } finally {
    for (const signal of SIGNALS) process.off(signal, pass);
  }
}
