import type { Kysely } from "kysely";
import { ArchiveError } from "./archive-error.ts";
import type { Forbid } from "./migrations/migration.ts";
import { MIGRATIONS } from "./migrations/migrations.ts";
import type { Schema } from "./schema.ts";

/**
 * Brings a database to the newest schema, in one transaction: an empty one, or one that an earlier version made.
 *
 * @throws ArchiveError (`newer`) when a later version made it; it is left as it is
 */
export async function migrate(db: Kysely<Schema>, forbid: Forbid, migrations = MIGRATIONS): Promise<void> {
  await db.transaction().execute(async (tx) => {
    await tx.schema
      .createTable("schema_version")
      .ifNotExists()
      .addColumn("version", "integer", (column) => column.primaryKey())
      .addColumn("name", "text", (column) => column.notNull())
      .execute();
    const seen = await tx.selectFrom("schema_version").selectAll().orderBy("version").execute();
    const stranger = seen.find(({ version, name }) => migrations[version - 1]?.name !== name);
    if (stranger !== undefined) {
      throw new ArchiveError(
        "newer",
        `The archive has a schema that this version does not know: ${stranger.version}, ${stranger.name}.`,
        "Open it with the version of the program that made it, or a later one.",
      );
    }
    for (const { version, name, up } of migrations.slice(seen.length)) {
      await up(tx as unknown as Kysely<unknown>, forbid);
      await tx.insertInto("schema_version").values({ version, name }).execute();
    }
  });
}
