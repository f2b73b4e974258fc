import type { Descriptor } from "./descriptor.ts";
import type { Table } from "./table.ts";

/**
 * The document: everything that was measured for one purpose, as it was typed. No default is filled in and no cell is
 * converted; {@link interpret} reads the tables, `resolveAssumptions` names the defaults, `digest` names the content.
 */
export interface Campaign {
  /** The content of `datapackage.json`, valid, with no defaults filled in. */
  readonly descriptor: Descriptor;
  /** Tables by the name of their resource. */
  readonly tables: Readonly<Record<string, Table>>;
  /** The JSON value of the characterisation from another day, where the descriptor names one. */
  readonly characterisation?: unknown;
}
