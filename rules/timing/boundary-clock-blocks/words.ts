import { agree, listNames, type FindingWords } from '../../../src/doors/rule.js';

interface Common {
  /** Boundary clocks that are in the way. */
  readonly at: readonly string[];
  /** Their domain. */
  readonly domain: number;
  /** Clocks that get no time of a clock meant to lead because of them. */
  readonly behind: readonly string[];
}

interface FollowsOnly extends Common {
  readonly form: 'follows only';
  /** The plan does not say that it is a boundary clock. */
  readonly isAssumed: boolean;
  /** Its priority1 is to be above this one; undefined where it is. */
  readonly abovePriority1: number | undefined;
}

interface LeadsOnly extends Common {
  readonly form: 'leads only';
  readonly ports: readonly string[];
  /** The better clock behind the ports. */
  readonly unheard: string;
  /** Whose time it keeps; undefined: its own. */
  readonly instead: string | undefined;
}

interface OtherDomain extends Common {
  readonly form: 'other domain';
  /** The domain that does not pass. */
  readonly lost: number;
  /** Meant to lead that one; empty where nobody is. */
  readonly meant: readonly string[];
}

export type Facts = FollowsOnly | LeadsOnly | OtherDomain;

export type Note = 'follows only' | 'leads only' | 'behind' | 'unheard' | { readonly domain: number };

export function words(facts: Facts): FindingWords<Note> {
  return { ...sentences(facts), label: labelWords };
}

function labelWords(name: string, note: Note): string {
  if (typeof note === 'object') return `${name}: domain ${note.domain} alone`;
  switch (note) {
    case 'follows only':
      return `${name}: only follows`;
    case 'leads only':
      return `${name}: ports that only lead`;
    case 'behind':
      return `${name}: gets no time through it`;
    case 'unheard':
      return `${name}: meant to lead, and not heard`;
  }
}

function sentences(facts: Facts): FindingWords<Note> {
  const { at, behind } = facts;
  const [name = ''] = at;
  const drift = `${listNames(behind)} ${agree(behind.length, 'keeps', 'keep')} a time of ${agree(behind.length, 'its', 'their')} own: pictures and sound drift against the rest from switch-on, with repeated frames and clicks, and no box shows a fault`;
  switch (facts.form) {
    case 'follows only': {
      const isWhat = facts.isAssumed
        ? 'is taken to be a boundary clock, as it states no mode, and'
        : 'is a boundary clock that';
      return {
        what: `${name} ${isWhat} only follows: it passes no time on${behind.length === 0 ? '' : `, so ${listNames(behind)} ${agree(behind.length, 'hears', 'hear')} nobody meant to lead`}`,
        onAir: behind.length === 0 ? 'whatever is plugged into it later gets no time, and free-runs' : drift,
        fix: `let ${name} lead too: slaveOnly false and clock class 248${facts.abovePriority1 === undefined ? '' : `, with a priority1 above ${facts.abovePriority1}`}${facts.isAssumed ? '; or, if it only keeps time for itself, state mode ordinary' : ''}`,
      };
    }
    case 'leads only': {
      const { ports, unheard, instead } = facts;
      const named = `${agree(ports.length, 'port')} ${listNames(ports)}`;
      const keeps = instead === undefined ? 'its own time' : `the time of ${instead}`;
      return {
        what: `${named} of ${name} ${agree(ports.length, 'is', 'are')} to lead only, and behind ${agree(ports.length, 'it', 'them')} stands ${unheard}, meant to lead: ${name} does not hear it and keeps ${keeps}${behind.length === 0 ? '' : `, and so ${agree(behind.length, 'does', 'do')} ${listNames(behind)}`}`,
        onAir:
          behind.length > 0
            ? drift
            : `all that follows ${name} has another time than ${unheard} gives, and steps when that changes`,
        fix: `take ${named} out of the ports of ${name} that only lead (masterOnly)`,
      };
    }
    case 'other domain': {
      const { meant, lost, domain } = facts;
      const keep = agree(at.length, 'keeps', 'keep');
      const apart =
        meant.length === 0
          ? `${listNames(behind)} do not hear each other, and none of them is meant to lead`
          : `${listNames(meant)}, meant to lead, ${agree(meant.length, 'does', 'do')} not reach ${listNames(behind)}`;
      return {
        what: `${listNames(at)} ${keep} domain ${domain} alone and ${agree(at.length, 'passes', 'pass')} no PTP of domain ${lost}: ${apart}`,
        onAir: drift,
        fix: `let ${listNames(at)} keep domain ${lost} too, where ${agree(at.length, 'it', 'they')} can, or set ${listNames(behind)} to domain ${domain}${meant.length === 0 ? `; and name who leads domain ${lost}` : ''}`,
      };
    }
  }
}
