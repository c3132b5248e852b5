import {
  agree,
  byLabel,
  counted,
  entityLabel,
  formatRate,
  listNames,
  portLabel,
  portsBySwitch,
  type FindingWords,
  type Interface,
  type NonEmpty,
  type Port,
} from '../../../src/doors/rule.js';

export interface Facts {
  /** The kind that writes the rate for all of them. */
  readonly kind: string | undefined;
  readonly interfaces: NonEmpty<Interface>;
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

export function words({ kind, interfaces, rateBps, ports, portRateBps }: Facts): FindingWords<Note> {
  const count = interfaces.length;
  const names = listNames(interfaces.map(entityLabel));
  const mine = formatRate(rateBps);
  return {
    what:
      kind === undefined
        ? `${names} ${agree(count, 'runs', 'run')} at ${mine}, ${agree(count, 'port')} ${listNames(ports.map(portLabel))} at ${formatRate(portRateBps)}`
        : `kind ${kind} runs ${interfaces[0].name} of ${counted(count, 'device')} at ${mine}, ${agree(count, 'its port', 'their ports')} ${agree(count, 'runs', 'run')} at ${formatRate(portRateBps)}: ${names} on ${listNames(byLabel(portsBySwitch(ports), (name) => name))}`,
    onAir:
      rateBps < portRateBps
        ? 'no link light where the port or its optic knows one rate only; else the port falls back to the lower rate, if it may'
        : 'no link light where the interface or its optic knows one rate only; else it falls back to the lower rate and drops what does not fit',
    fix: `${kind === undefined ? '' : `correct the rate in kind ${kind}, once for all, if it is a slip; else `}set the ${agree(count, 'port')} to ${mine} or use ports of that rate, or write down the rate ${agree(count, 'it really runs', 'they really run')} at`,
    label: (name, note) => `${note.ports === undefined ? name : listNames(note.ports)}: ${formatRate(note.rateBps)}`,
  };
}
