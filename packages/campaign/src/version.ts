/** Version of the program, as results name it. A test holds it to the package's. */
export const VERSION = "0.1.0";
