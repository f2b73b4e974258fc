import { type Archive, keepPerson, people, personAt } from "@alcedo-dosimetry/archive";
import { isPassphraseOf, newPerson, type PassphraseCost } from "@alcedo-dosimetry/archive/folder";
import type { Person } from "@alcedo-dosimetry/protocol";

/** Who may work in the archive. */
export interface People {
  readonly all: () => Promise<readonly Person[]>;
  /** Makes a person with a key of their own. @throws ArchiveError (`exists`) where the id is taken */
  readonly add: (person: Person, passphrase: string) => Promise<void>;
  /** The person, where the passphrase is theirs; undefined takes as long for a person who is not there. */
  readonly check: (id: string, passphrase: string) => Promise<Person | undefined>;
}

/**
 * The people of an archive.
 *
 * @param cost what a new passphrase costs to try; as the archive proposes unless given
 */
export function peopleOf(archive: Archive, cost?: PassphraseCost): People {
  return {
    all: async () => people(archive),
    async add({ id, name }, passphrase) {
      const person = await newPerson({ id, name }, passphrase, cost);
      await keepPerson({ ...archive, who: id }, person, "came by a one-time link");
    },
    async check(id, passphrase) {
      const person = (await personAt(archive, id))?.person;
      if (!(await isPassphraseOf(person, passphrase)) || person === undefined) return undefined;
      return { id: person.id, name: person.name };
    },
  };
}
