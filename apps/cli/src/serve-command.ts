import type { World } from "./world.ts";
import { wrap } from "./wrap.ts";

/** How `alcedo serve` is to serve. */
export interface ServeOptions {
  readonly port?: string;
  readonly host?: string;
  /** A campaign folder that an archive without campaigns takes in. */
  readonly example?: string;
}

/**
 * `alcedo serve`: the workbench on one's own data, until it is stopped. The server is a program of its own; it is told by its
 * environment what is said here, and says itself what it does.
 */
export async function serveCommand(
  folder: string | undefined,
  { port, host, example }: ServeOptions,
  { startServer, errors }: World,
): Promise<0 | 2 | 3> {
  const status = await startServer?.({
    ...(folder !== undefined && { ALCEDO_HOME: folder }),
    ...(port !== undefined && { PORT: port }),
    ...(host !== undefined && { HOST: host }),
    ...(example !== undefined && { ALCEDO_TAKE_IN: example }),
  });
  if (status !== undefined) return status === 0 || status === 2 ? status : 3;
  errors.print(
    wrap("alcedo serve: the workbench is not built. Run `npm run build` in Alcedo's folder first.", errors.width),
  );
  return 2;
}
