import type { Migration } from "./migration.ts";

/** Keys of changes, so that one sent twice is made once; people, and what they signed. */
export const workbench: Migration = {
  version: 2,
  name: "workbench",
  async up(db, forbid) {
    await db.schema
      .createTable("change_key")
      .addColumn("key", "text", (column) => column.primaryKey().notNull())
      .addColumn("seq", "integer", (column) => column.notNull().unique().references("revision.seq"))
      .execute();

    await db.schema
      .createTable("person")
      .addColumn("id", "text", (column) => column.primaryKey().notNull())
      .addColumn("name", "text", (column) => column.notNull())
      .addColumn("public_key", "text", (column) => column.notNull().unique())
      .addColumn("latest", "integer", (column) => column.notNull().unique().references("revision.seq"))
      .execute();

    await db.schema
      .createTable("signature")
      .addColumn("seq", "integer", (column) => column.primaryKey().references("revision.seq"))
      .addColumn("campaign", "text", (column) => column.notNull().references("campaign.id"))
      .addColumn("revision", "integer", (column) => column.notNull().references("revision.seq"))
      .addColumn("evaluation", "integer", (column) => column.notNull().references("evaluation.seq"))
      .addColumn("meaning", "text", (column) => column.notNull())
      .addColumn("who", "text", (column) => column.notNull().references("person.id"))
      .execute();
    await db.schema.createIndex("signature_by_campaign").on("signature").columns(["campaign", "seq"]).execute();

    for (const table of ["change_key", "signature"]) await forbid(db, table, "update");
    for (const table of ["change_key", "signature", "person"]) await forbid(db, table, "delete");
  },
};
