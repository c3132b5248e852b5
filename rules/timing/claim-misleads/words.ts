import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';
import type { ClaimFault } from '../../../src/doors/timing.js';

export type { ClaimFault };

export interface Facts {
  readonly fault: ClaimFault;
  readonly domain: number;
  readonly clocks: readonly string[];
  /** Of the first. */
  readonly clockClass: number;
}

export function words({ fault, domain, clocks, clockClass }: Facts): FindingWords<ClaimFault> {
  const names = listNames(clocks);
  const states = agree(clocks.length, 'states', 'state');
  const label = (name: string, note: ClaimFault): string => `${name}: ${LABELS[note]}`;
  switch (fault) {
    case 'untraceable':
      return {
        what: `${names}, meant to lead domain ${domain}, ${states} clock class ${clockClass}, that of a primary reference, and traceable false`,
        onAir: `with that class ${names} ${agree(clocks.length, 'goes', 'go')} before clocks that do have a reference, and the rig keeps a time of day that no reference gives`,
        fix: 'state the class the clock really shows, 248 without a reference, or leave `traceable` out where it has one',
        label,
      };
    case 'own epoch':
      return {
        what: `${names}, meant to lead domain ${domain}, ${states} clock class ${clockClass}: locked to a reference of the application, with an epoch of its own`,
        onAir:
          'pictures and sound keep together inside the rig, yet their time stamps count from no common epoch: nothing from another site or rig lines up, and time of day is wrong',
        fix: 'lock the clock to a primary reference such as GNSS (class 6)',
        label,
      };
    case 'accuracy':
      return {
        what: `${names}, meant to lead domain ${domain}, ${states} clock class ${clockClass} and clockAccuracy 254, which says that nobody knows it`,
        onAir: `any other clock of the same priority1 and class goes before ${names}, and gear that keeps to ST 2059-2 may reject the time`,
        fix: 'state the accuracy the clock shows once it is locked, 33 (100 ns) for most with GNSS',
        label,
      };
  }
}

const LABELS: Readonly<Record<ClaimFault, string>> = {
  untraceable: 'not traceable',
  'own epoch': 'an epoch of its own',
  accuracy: 'accuracy unknown',
};
