import type { Migration } from "./migration.ts";

/** The record of revisions, and what lists of campaigns and evaluations read. */
export const record: Migration = {
  version: 1,
  name: "record",
  async up(db, forbid) {
    await db.schema
      .createTable("revision")
      .addColumn("seq", "integer", (column) => column.primaryKey())
      .addColumn("at", "text", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull())
      .addColumn("why", "text", (column) => column.notNull())
      .addColumn("kind", "text", (column) => column.notNull())
      .addColumn("subject", "text", (column) => column.notNull())
      .addColumn("base", "integer", (column) => column.references("revision.seq"))
      .addColumn("body", "text", (column) => column.notNull())
      .addColumn("seal", "text", (column) => column.notNull().unique())
      .execute();
    await db.schema
      .createIndex("revision_by_subject")
      .on("revision")
      .columns(["kind", "subject", "seq"])
      .unique()
      .execute();

    await db.schema
      .createTable("campaign")
      .addColumn("id", "text", (column) => column.primaryKey().notNull())
      .addColumn("name", "text", (column) => column.notNull())
      .addColumn("title", "text", (column) => column.notNull())
      .addColumn("fibre", "text", (column) => column.notNull())
      .addColumn("beam", "text", (column) => column.notNull())
      .addColumn("readings", "integer", (column) => column.notNull())
      .addColumn("input", "text", (column) => column.notNull())
      .addColumn("words", "text", (column) => column.notNull())
      .addColumn("latest", "integer", (column) => column.notNull().references("revision.seq"))
      .execute();
    await db.schema.createIndex("campaign_by_latest").on("campaign").column("latest").unique().execute();
    await db.schema.createIndex("campaign_by_fibre").on("campaign").columns(["fibre", "latest"]).execute();
    await db.schema.createIndex("campaign_by_beam").on("campaign").columns(["beam", "latest"]).execute();

    await db.schema
      .createTable("evaluation")
      .addColumn("seq", "integer", (column) => column.primaryKey().references("revision.seq"))
      .addColumn("campaign", "text", (column) => column.notNull().references("campaign.id"))
      .addColumn("input", "text", (column) => column.notNull())
      .addColumn("result", "text", (column) => column.notNull())
      .addColumn("standing", "text", (column) => column.notNull())
      .addColumn("program", "text", (column) => column.notNull())
      .execute();
    await db.schema.createIndex("evaluation_by_campaign").on("evaluation").columns(["campaign", "seq"]).execute();

    for (const table of ["revision", "evaluation", "schema_version"]) await forbid(db, table, "update");
    for (const table of ["revision", "evaluation", "schema_version", "campaign"]) await forbid(db, table, "delete");
  },
};
