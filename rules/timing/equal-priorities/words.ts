import { listNames, type FindingWords } from '../../../src/doors/rule.js';

export interface Facts {
  readonly domain: number;
  /** As they are to lead: in the agreed order, else by name. */
  readonly clocks: readonly string[];
  readonly priority1: number;
  readonly clockClass: number;
  readonly priority2: number;
  /** The plan does not state the accuracy or the variance of all. */
  readonly isOpen: boolean;
  /** Who leads as it is; absent where the plan does not state all identities. */
  readonly winner: { readonly name: string; readonly identity: string } | undefined;
}

export function words(facts: Facts): FindingWords<'reorder'> {
  const { domain, clocks, priority1, clockClass, priority2, isOpen, winner } = facts;
  const leads =
    winner === undefined
      ? 'the lowest clock identity decides, that is, whose MAC address happens to be lower'
      : `${winner.name} leads by its clock identity ${winner.identity} alone`;
  return {
    what: `${listNames(clocks)} tie in domain ${domain}: priority1 ${priority1}, clock class ${clockClass}, priority2 ${priority2} and all between are equal${isOpen ? ', as far as the plan states them' : ''}`,
    onAir: `${leads}; a box swapped in a hurry changes which one leads, and every picture and sound steps at that moment`,
    fix: `keep priority1 equal and give each its own priority2: ${clocks.map((name, index) => `${name} ${index + 1}`).join(', ')}`,
    label: (name) => `${name}: give this one another priority2`,
  };
}
