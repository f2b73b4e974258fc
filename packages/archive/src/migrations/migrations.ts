import { record } from "./0001-record.ts";
import { workbench } from "./0002-workbench.ts";
import type { Migration } from "./migration.ts";

/** All steps of the schema, in order. */
export const MIGRATIONS: readonly Migration[] = [record, workbench];
