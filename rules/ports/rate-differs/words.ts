import {
  agree,
  entityLabel,
  formatRate,
  listNames,
  portLabel,
  type FindingWords,
  type Interface,
  type Port,
} from '../../../src/doors/rule.js';

export interface Facts {
  readonly interfaces: readonly Interface[];
  readonly rateBps: number;
  /** One for each interface. */
  readonly ports: readonly Port[];
  readonly portRateBps: number;
}

/** The rate of an interface, or of several ports written in one entry. */
export interface Note {
  readonly rateBps: number;
  readonly ports?: readonly string[];
}

export function words({ interfaces, rateBps, ports, portRateBps }: Facts): FindingWords<Note> {
  const count = interfaces.length;
  const mine = formatRate(rateBps);
  return {
    what: `${listNames(interfaces.map(entityLabel))} ${agree(count, 'runs', 'run')} at ${mine}, ${agree(count, 'port')} ${listNames(ports.map(portLabel))} at ${formatRate(portRateBps)}`,
    onAir:
      rateBps < portRateBps
        ? 'no link light where the port or its optic knows one rate only; else the port falls back to the lower rate, if it may'
        : 'no link light where the interface or its optic knows one rate only; else it falls back to the lower rate and drops what does not fit',
    fix: `set the ${agree(count, 'port')} to ${mine} or use ports of that rate, or write down the rate ${agree(count, 'it really runs', 'they really run')} at`,
    label: (name, note) => `${note.ports === undefined ? name : listNames(note.ports)}: ${formatRate(note.rateBps)}`,
  };
}
