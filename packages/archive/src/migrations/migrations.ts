import { record } from "./0001-record.ts";
import type { Migration } from "./migration.ts";

/** All steps of the schema, in order. */
export const MIGRATIONS: readonly Migration[] = [record];
