/**
 * A lab of linuxptp daemons: each path is a Linux bridge, each PTP port a veth pair into one, all in one network
 * namespace. PTP runs straight over Ethernet, so that the daemons need neither addresses nor namespaces of their own.
 */
import type { ChildProcess } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Wish } from '../tools/election-sets.js';
import type { Lab } from './lab.js';

/** A clock in a lab: it may be in a domain of its own, and measure delay its own way. */
export type LabWish = Wish & { readonly domain?: number; readonly delayMechanism?: 'E2E' | 'P2P' };

/** A set of clocks in a lab. */
export type LabSet = Readonly<Record<string, LabWish>>;

/** What a daemon says of itself. */
export interface Seen {
  readonly states: readonly string[];
  /** Identity of the parent; the clock's own where it follows nobody. */
  readonly parent: string;
  readonly grandmaster: string;
  readonly stepsRemoved: number;
}

/** The cable at a port of a clock, by the port's number from 0. */
export interface Cable {
  readonly clock: string;
  readonly port: number;
}

/** Announces eight times a second, unless said otherwise, given up after three. */
function announcing(log: number): readonly string[] {
  return [
    `logAnnounceInterval ${String(log)}`,
    'announceReceiptTimeout 3',
    'logSyncInterval 0',
    'logMinDelayReqInterval 0',
  ];
}

export interface Pace {
  readonly logAnnounceInterval: number;
  /** Whether the daemons say what they do, for `said`. */
  readonly talk: boolean;
}

export class PtpLab {
  readonly #lab: Lab;
  readonly #daemons = new Map<string, ChildProcess>();
  readonly #sets: readonly LabSet[];
  readonly #pace: Pace;
  readonly #said = new Map<string, string>();

  constructor(lab: Lab, sets: readonly LabSet[], pace: Pace = { logAnnounceInterval: -3, talk: false }) {
    this.#lab = lab;
    this.#sets = sets;
    this.#pace = pace;
  }

  /** All that a daemon has said so far, each line with the seconds of the system's monotonic clock. */
  said(set: number, name: string): string {
    return this.#said.get(`${set} ${name}`) ?? '';
  }

  /** All daemons; those that only follow so many seconds later, as one that hears nobody at first may go faulty. */
  async start(laterS = 0): Promise<void> {
    await this.#lab.ip(this.#sets.flatMap(linksOf));
    this.#startThose(({ slaveOnly }) => laterS === 0 || slaveOnly !== true);
    if (laterS === 0) return;
    await sleep(laterS * 1000);
    this.#startThose(({ slaveOnly }) => slaveOnly === true);
  }

  #startThose(wanted: (wish: LabWish) => boolean): void {
    this.#sets.forEach((set, number) => {
      Object.entries(set).forEach(([name, wish], clock) => {
        if (!wanted(wish)) return;
        const config = join(this.#lab.folder, `${number}-${name}.cfg`);
        const ports = wish.on.map((_, port) => portName(number, clock, port));
        writeFileSync(config, configOf(wish, ports, this.#socket(number, name), this.#pace));
        const key = `${number} ${name}`;
        const hear = (text: string): void => void this.#said.set(key, (this.#said.get(key) ?? '') + text);
        this.#daemons.set(key, this.#lab.start('ptp4l', ['-f', config], this.#pace.talk ? hear : undefined));
      });
    });
  }

  kill(set: number, name: string): void {
    this.#daemons.get(`${set} ${name}`)?.kill('SIGKILL');
    this.#daemons.delete(`${set} ${name}`);
  }

  /** Pulls the cable of a clock's port: its carrier is gone. */
  async cut(set: number, cables: readonly Cable[]): Promise<void> {
    const names = Object.keys(this.#sets[set] ?? {});
    await this.#lab.ip(cables.map(({ clock, port }) => `link set ${portName(set, names.indexOf(clock), port)}p down`));
  }

  /** Tells a grandmaster that it lost its reference: another class from now on. */
  async degrade(set: number, name: string, clockClass: number): Promise<void> {
    const own = join(this.#lab.folder, `pmc-set-${set}-${name}`);
    const settings = [
      `clockClass ${String(clockClass)} clockAccuracy 0x21 offsetScaledLogVariance 0xffff`,
      'currentUtcOffset 37 leap61 0 leap59 0 currentUtcOffsetValid 1 ptpTimescale 1 timeTraceable 1',
      'frequencyTraceable 0 timeSource 0x20',
    ].join(' ');
    const words = [
      '-u',
      '-s',
      this.#socket(set, name),
      '-i',
      own,
      '-b',
      '0',
      `SET GRANDMASTER_SETTINGS_NP ${settings}`,
    ];
    await this.#lab.run('pmc', words, { mostMs: 3000 });
  }

  /** What every running daemon of a set says, a few at a time; undefined for one that does not answer. */
  async read(set: number): Promise<Readonly<Record<string, Seen | undefined>>> {
    const clocks = Object.entries(this.#sets[set] ?? {}).filter(([name]) => this.#daemons.has(`${set} ${name}`));
    return Object.fromEntries(
      await Promise.all(
        clocks.map(async ([name, { domain = 0 }]) => [name, await this.#ask(set, name, domain)] as const),
      ),
    );
  }

  async #ask(set: number, name: string, domain: number): Promise<Seen | undefined> {
    const own = join(this.#lab.folder, `pmc-${set}-${name}`);
    const queries = ['GET PORT_DATA_SET', 'GET PARENT_DATA_SET', 'GET CURRENT_DATA_SET'];
    try {
      const words = ['-u', '-s', this.#socket(set, name), '-i', own, '-d', String(domain), '-b', '0', ...queries];
      return seenIn(await this.#lab.run('pmc', words, { mostMs: 3000 }));
    } catch {
      return undefined;
    }
  }

  #socket(set: number, name: string): string {
    return join(this.#lab.folder, `${set}-${name}`);
  }
}

/** A bridge for each path of a set, and for each port a veth pair into its bridge. */
function linksOf(set: LabSet, number: number): readonly string[] {
  const lines: string[] = [];
  const bridges = new Map<string, string>();
  for (const path of Object.values(set).flatMap(({ on }) => on.map(pathOf))) {
    if (bridges.has(path)) continue;
    const bridge = `b${number}x${bridges.size}`;
    bridges.set(path, bridge);
    lines.push(`link add name ${bridge} type bridge mcast_snooping 0`, `link set ${bridge} up`);
  }
  Object.values(set).forEach((wish, clock) => {
    wish.on.forEach((text, port) => {
      const near = portName(number, clock, port);
      // The first port's MAC makes the identity.
      const mac = `02:00:00:${hex(port)}:00:${hex(wish.id)}`;
      lines.push(
        `link add name ${near} address ${mac} type veth peer name ${near}p`,
        `link set ${near}p master ${bridges.get(pathOf(text)) ?? ''}`,
        `link set ${near}p up`,
        `link set ${near} up`,
      );
    });
  });
  return lines;
}

/** `middle!` is a port on `middle` that never follows. */
function pathOf(text: string): string {
  return text.replace(/!$/, '');
}

function portName(set: number, clock: number, port: number): string {
  return `v${set}x${clock}x${port}`;
}

function hex(value: number): string {
  return value.toString(16).padStart(2, '0');
}

function configOf(wish: LabWish, ports: readonly string[], socket: string, pace: Pace): string {
  return [
    '[global]',
    'network_transport L2',
    'time_stamping software',
    'free_running 1',
    'use_syslog 0',
    `verbose ${pace.talk ? 1 : 0}`,
    `logging_level ${pace.talk ? 6 : 0}`,
    'tx_timestamp_timeout 200',
    ...announcing(pace.logAnnounceInterval),
    `uds_address ${socket}`,
    `domainNumber ${wish.domain ?? 0}`,
    `delay_mechanism ${wish.delayMechanism ?? 'E2E'}`,
    `priority1 ${wish.priority1 ?? 128}`,
    `priority2 ${wish.priority2 ?? 128}`,
    `clockClass ${wish.clockClass ?? 248}`,
    `clockAccuracy 0x${hex(wish.clockAccuracy ?? 0xfe)}`,
    `offsetScaledLogVariance 0x${(wish.offsetScaledLogVariance ?? 0xffff).toString(16)}`,
    `slaveOnly ${wish.slaveOnly === true ? 1 : 0}`,
    ...ports.flatMap((port, index) => [`[${port}]`, `masterOnly ${wish.on[index]?.endsWith('!') === true ? 1 : 0}`]),
    '',
  ].join('\n');
}

function seenIn(text: string): Seen | undefined {
  const states = [...text.matchAll(/portIdentity\s+\S+-(\d+)[\s\S]*?portState\s+(\w+)/g)]
    .sort((a, b) => Number(a[1]) - Number(b[1]))
    .map((match) => match[2] ?? '');
  const parent = /parentPortIdentity\s+(\S+)-\d+/.exec(text)?.[1];
  const grandmaster = /grandmasterIdentity\s+(\S+)/.exec(text)?.[1];
  const stepsRemoved = /stepsRemoved\s+(\d+)/.exec(text)?.[1];
  if (states.length === 0 || parent === undefined || grandmaster === undefined || stepsRemoved === undefined)
    return undefined;
  return { states, parent, grandmaster, stepsRemoved: Number(stepsRemoved) };
}

/** A clock identity as the daemons write it. */
export function shownIdentity(identity: bigint): string {
  return identity
    .toString(16)
    .padStart(16, '0')
    .replace(/^(.{6})(.{4})/, '$1.$2.');
}
