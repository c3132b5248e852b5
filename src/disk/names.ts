/** Files of the writer's own beside the plans. All are hidden: no folder is read with them. */
import { basename } from './places.js';

/** A new text before it takes its place. */
export function partName(id: string, number: number): string {
  return `.rigproof-part-${id}-${number}`;
}

/** An old text until all new ones are in place. */
export function oldName(id: string, number: number): string {
  return `.rigproof-old-${id}-${number}`;
}

/** What a writer that was stopped leaves, once no journal speaks of it. */
export function isLeftover(name: string): boolean {
  return /^\.rigproof-(?:part|old)-/.test(name);
}

/** What is being written into a folder, called after it. */
export function journalName(folder: string): string {
  const name = basename(folder);
  return `.${name === '' ? 'root' : name}${JOURNAL}`;
}

/** Also where the folder has been called otherwise when it was written: a stick is not always mounted in one place. */
export function isJournal(name: string): boolean {
  return name.startsWith('.') && name.endsWith(JOURNAL);
}

const JOURNAL = '.rigproof-journal';

/** Starts the name of a lock. */
export const LOCK = '.rigproof-lock-';

export function isLock(name: string): boolean {
  return name.startsWith(LOCK);
}
