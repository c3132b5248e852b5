import { agree, listNames, portLabel, type FindingWords, type Port } from '../../../src/doors/rule.js';

export interface Facts {
  readonly port: Port;
  /** Interfaces, and links as `link R01`. */
  readonly users: readonly string[];
  readonly free: Port | undefined;
  /** No link is among them, and they are interfaces of several devices. */
  readonly severalDevices: boolean;
}

export function words({ port, users, free, severalDevices }: Facts): FindingWords<'elsewhere'> {
  return {
    what: `port ${portLabel(port)} is planned for ${listNames(users)}`,
    onAir: `only one of them gets plugged in: on the day ${agree(users.length - 1, 'the other goes', 'the others go')} into whatever port is free, perhaps in another VLAN, or nowhere`,
    fix: `give each of them a port of its own${free === undefined ? '' : `; ${portLabel(free)} is free`}${severalDevices ? '; where they run on one machine, state its name as `host` of each' : ''}`,
    label: (name) => `${name}: plug it in elsewhere`,
  };
}
