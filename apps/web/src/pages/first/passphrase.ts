import { PASSPHRASE_SHORTEST, personIdSchema } from "@alcedo-dosimetry/protocol";

/** What is filled in by somebody who is new. */
export interface NewPerson {
  readonly name: string;
  readonly id: string;
  readonly passphrase: string;
  readonly again: string;
}

/** What is wrong with each field, in words; a field that is right is absent. */
export type Faults = Readonly<Partial<Record<keyof NewPerson, string>>>;

/** Judges what was filled in, before it is sent. */
export function faultsOf({ name, id, passphrase, again }: NewPerson): Faults {
  const wrongId = personIdSchema.safeParse(id).error?.issues[0]?.message;
  return {
    ...(name.trim() === "" && { name: "Write your name as it is to stand under a report." }),
    ...(wrongId !== undefined && { id: `It ${wrongId}.` }),
    ...([...passphrase].length < PASSPHRASE_SHORTEST && {
      passphrase: `At least ${PASSPHRASE_SHORTEST} characters: four or five words in a row are easy to keep, and hard to guess.`,
    }),
    ...(again !== passphrase && { again: "The two are not the same." }),
  };
}

/** A proposal for an id out of a name: `Ana María Doe` → `ana.maria.doe`; empty where no letter of it fits. */
export function proposedId(name: string): string {
  return name
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "")
    .toLowerCase()
    .split(/[^a-z0-9]+/)
    .filter((part) => part !== "")
    .join(".")
    .slice(0, 40)
    .replace(/\.+$/, "");
}
