import type { UnknownName } from '../answers/unknown-name.js';
import { UsageError } from './exit.js';

/** The answer, unless the name that was asked about is nobody's: `nothing` says of what it is no name. */
export function known<T extends object>(answer: T | UnknownName, nothing: string): T {
  if (!('unknown' in answer)) return answer;
  const { unknown, near } = answer;
  const meant = near === undefined ? '' : `; did you mean \`${near}\`?`;
  throw new UsageError(`${nothing} is called \`${unknown}\`${meant}`);
}
