import { formatRate, linkLabel, portLabel, type FindingWords, type Link, type Port } from '../../../src/doors/rule.js';

export interface Facts {
  /** `ports`: they differ. `link`: it is planned for more than a port can do. */
  readonly form: 'ports' | 'link';
  readonly link: Link;
  /** What the link is planned for, where a port is slower. */
  readonly plannedBps: number | undefined;
  readonly ports: readonly { readonly port: Port; readonly rateBps: number }[];
  readonly slowestBps: number;
}

export interface Note {
  readonly rateBps: number;
}

export function words({ form, link, plannedBps, ports, slowestBps }: Facts): FindingWords<Note> {
  const planned = plannedBps === undefined ? '' : `, planned for ${formatRate(plannedBps)},`;
  const rates = ports.map(({ port, rateBps }) => `${portLabel(port)} at ${formatRate(rateBps)}`);
  return {
    what: `link ${linkLabel(link)}${planned} has ${rates.join(' and ')}`,
    onAir:
      form === 'ports'
        ? 'no link light where a port or its optic knows one rate only; else the link falls back to the lower rate and drops what does not fit'
        : 'the link carries less than planned: it drops packets of every stream on it as soon as it is as full as the plan allows',
    fix:
      form === 'ports'
        ? 'use ports and optics of one rate at both ends, and write that rate for the link'
        : `plan the link for ${formatRate(slowestBps)}, or use faster ports`,
    label: (name, { rateBps }) => `${name}: ${formatRate(rateBps)}`,
  };
}
