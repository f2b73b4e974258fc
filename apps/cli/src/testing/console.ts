import { type ExitStatus, run } from "../program.ts";
import { textWidth } from "../text-width.ts";
import type { StartWorker } from "../worker-pool.ts";
import { type StartServer, worldOf } from "../world.ts";

/** What a run of the program left: its exit status, and what stands on the two streams. */
export interface Run {
  readonly status: ExitStatus;
  readonly out: string;
  readonly err: string;
}

/** How the terminal is that the program believes to write to. */
export interface Terminal {
  readonly columns?: number;
  readonly isTTY?: boolean;
  readonly env?: Readonly<Record<string, string>>;
  readonly startWorker?: StartWorker;
  readonly startServer?: StartServer;
}

/** Runs the program in this process: `alcedo` with these words behind it. */
export async function alcedo(
  words: readonly string[],
  { columns, isTTY = false, env = {}, ...startable }: Terminal = {},
): Promise<Run> {
  const stream = () => {
    const texts: string[] = [];
    return { texts, isTTY, ...(columns !== undefined && { columns }), write: (text: string) => texts.push(text) };
  };
  const [out, err] = [stream(), stream()];
  const status = await run(words, worldOf(out, err, env, startable));
  return { status, out: out.texts.join(""), err: err.texts.join("") };
}

/** A text without the sequences that colour it. */
export function withoutColour(text: string): string {
  return text
    .split("\u001b[")
    .map((part, i) => (i === 0 ? part : part.replace(/^\d+m/, "")))
    .join("");
}

/** Columns that the widest line of a text takes. */
export function widest(text: string): number {
  return Math.max(...text.split("\n").map(textWidth));
}
