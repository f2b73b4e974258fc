import * as z from "zod";

/** The id by which a person is known and logs in: short, in small letters, for it stands beside every change. */
export const personIdSchema = z
  .string()
  .regex(/^[a-z0-9](?:[a-z0-9._-]{0,38}[a-z0-9])?$/, {
    message:
      "must have 1 to 40 characters of a-z, 0-9, point, underscore and hyphen, with a letter or digit at both ends",
  })
  .meta({ description: "such as j.doe" });

const personNameSchema = z
  .string()
  .max(100, "must have at most 100 characters")
  .regex(/\S/, "must not be blank")
  .refine((name) => !/\p{Cc}/u.test(name), "must not hold control characters");

/** The shortest passphrase that is taken for a new person, in characters. */
export const PASSPHRASE_SHORTEST = 12;

/** A passphrase as it comes with a login or a signature: any text, but not one that takes the server's time. */
const passphraseSchema = z.string().min(1, "must not be empty").max(1000, "must have at most 1000 characters");

const newPassphraseSchema = z
  .string()
  .min(
    PASSPHRASE_SHORTEST,
    `must have at least ${PASSPHRASE_SHORTEST} characters: a few words in a row are easy to keep`,
  )
  .max(1000, "must have at most 1000 characters");

/** A person who may work in the archive. */
export const personSchema = z.strictObject({ id: personIdSchema, name: personNameSchema });

/** Who is logged in. */
export const meSchema = z.strictObject({
  person: personSchema,
  /** Present and true where the archive is the demonstration: everything in it is invented. */
  simulated: z.boolean().exactOptional(),
});

/** What a one-time link asks for: the token of the link, and the person that it makes. */
export const firstRequestSchema = z.strictObject({
  token: z.string().regex(/^[A-Za-z0-9_-]{43}$/, "is not one of this server's: open the link as it was printed"),
  id: personIdSchema,
  name: personNameSchema,
  passphrase: newPassphraseSchema,
});

/** A login. */
export const loginRequestSchema = z.strictObject({ id: personIdSchema, passphrase: passphraseSchema });

/** An invitation: handed over once, good for a day. */
export const invitationSchema = z.strictObject({
  link: z.string().meta({ description: "where the invited person sets a passphrase; it is shown this once" }),
  until: z.string().meta({ description: "ISO 8601, when it ends" }),
});

/** A person who may work in the archive. */
export type Person = z.infer<typeof personSchema>;
