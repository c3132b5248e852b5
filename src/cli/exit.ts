/** How the program ends. Never a count. */
export const EXIT = {
  /** Nothing at or above the failing severity. */
  clean: 0,
  /** Findings at or above the failing severity. */
  findings: 1,
  /** A plan that can't be read, or wrong usage. */
  unusable: 2,
  /** A rule or the program failed. */
  failed: 3,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/** A message for the user that ends the program; not a fault of the program. */
export class UsageError extends Error {
  override readonly name = 'UsageError';
}
