import { listNames, type FindingWords } from '../../../src/doors/rule.js';

interface Grandmaster {
  readonly name: string;
  readonly clockClass: number;
}

export interface Facts {
  readonly main: Grandmaster;
  readonly backups: readonly (Grandmaster & { readonly isStatedUntraceable: boolean })[];
}

/** With or without a reference. */
export type Note = 'with' | 'without';

export function words({ main, backups }: Facts): FindingWords<Note> {
  const worse = backups.map(
    ({ name, clockClass, isStatedUntraceable }) =>
      `${name} (${isStatedUntraceable ? 'not traceable' : `clock class ${clockClass}`})`,
  );
  return {
    what: `${main.name} has a reference (clock class ${main.clockClass}), its backup ${listNames(worse)} has none`,
    onAir: `when ${main.name} fails, the backup carries on with its own time of day: everything steps by the difference at once, and again when ${main.name} is back`,
    fix: `lock ${listNames(backups.map(({ name }) => name))} to a primary reference too: an antenna of its own, clock class 6`,
    label: (name, note) => `${name}: ${note === 'with' ? 'has a reference' : 'no reference'}`,
  };
}
