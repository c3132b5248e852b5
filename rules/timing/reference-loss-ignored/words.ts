import { agree, counted, listNames, listOr, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly domain: number;
  readonly leader: string;
  readonly priority1: number;
  readonly clockClass: number;
  /** Classes it steps down to. */
  readonly classes: readonly number[];
  /** Those that have a reference and stand by. */
  readonly better: readonly { readonly name: string; readonly priority1: number }[];
  /** Clocks that keep its time. */
  readonly followers: number;
}

export type Note = 'leads' | 'stands by';

export function words(facts: Facts): FindingWords<Note> {
  const { domain, leader, priority1, clockClass, classes, better, followers } = facts;
  const names = listNames(better.map(({ name }) => name));
  const theirs = listOr([...new Set(better.map((one) => String(one.priority1)))]);
  return {
    what: `in domain ${domain} ${leader} (clock class ${clockClass}) keeps the lead when it loses its reference and falls to class ${classes.join(', then ')}: its priority1 is ${priority1}, that of ${names} ${theirs}, and priority1 is compared before the class`,
    onAir: `nothing at first, and no box reports it: ${leader} drifts in holdover with ${counted(followers, 'follower')}, while ${names} ${agree(better.length, 'has', 'have')} the right time; once the reference is back everything steps`,
    fix: `give them one priority1 (${priority1}), so that the clock class decides, and order equals by priority2`,
    label: (name, note) =>
      note === 'leads' ? `${name}: leads whatever its class is` : `${name}: has a reference, and stands by`,
  };
}
