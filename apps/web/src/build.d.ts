/** What the bundler knows and the compiler does not. */

declare module "*.css";

/** The address of the engine's script; scripts/build-page.mjs puts it in. */
declare const ENGINE_ADDRESS: string;
