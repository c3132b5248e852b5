/**
 * Labs: each is a network namespace, with the links that a case makes and the programs it starts inside.
 *
 * A lab has no name in the system. It lives as long as a process that holds it, and that process, like every other of the
 * lab, is killed with the one that opened it, however that ends. So nothing is made in the namespace the tests run in,
 * nothing stays behind, and labs of any number of cases and runs stand side by side.
 */
import { spawn, spawnSync, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { withoutProgram } from '../tools/outside.js';

/** Programs that labs start, and how each says that it is there. */
const TOOLS = {
  ip: ['-V'],
  unshare: ['--version'],
  nsenter: ['--version'],
  setpriv: ['--version'],
  python3: ['-c', 'import ctypes, socket; socket.socket(socket.AF_PACKET, socket.SOCK_RAW, 0)'],
  ffmpeg: ['-version'],
  ptp4l: ['-v'],
  pmc: ['-v'],
  'ovs-vswitchd': ['--version'],
  'ovsdb-server': ['--version'],
  'ovs-vsctl': ['--version'],
  vtysh: ['-h'],
  '/usr/lib/frr/zebra': ['--version'],
  '/usr/lib/frr/ospfd': ['--version'],
  '/usr/lib/frr/pimd': ['--version'],
} as const;

/** Links of every kind that a lab is made of. */
const TRIAL = [
  'link add br0 type bridge mcast_snooping 1',
  'link add v0 type veth peer name v1',
  'link set v0 master br0',
];

/** Labs that stand at one time: most of a lab's time is waiting, but a starved daemon or host misses its moment. */
export const LABS_AT_ONCE = 2;

const IN_NEW_NAMESPACE = ['unshare', '--net'] as const;
/** With the thread that starts it, which in a test is its process, a program is gone too. */
const MORTAL = ['setpriv', '--pdeathsig', 'KILL'] as const;
/** Without IPv6 no interface speaks unasked. */
const NO_IPV6 = 'for s in all default; do echo 1 > /proc/sys/net/ipv6/conf/$s/disable_ipv6; done 2>/dev/null';

/** Why there can be no lab with these programs on this machine; undefined where there can. */
export function whyNoLab(...tools: readonly (keyof typeof TOOLS)[]): string | undefined {
  const missing = (['ip', 'unshare', 'nsenter', 'setpriv'] as const).map((tool) => withoutProgram(tool, TOOLS[tool]));
  const first = missing.find((reason) => reason !== undefined);
  if (first !== undefined) return first;
  if (process.getuid?.() !== 0) return 'network namespaces need root';
  for (const tool of tools) {
    const reason = withoutProgram(tool, TOOLS[tool]);
    if (reason !== undefined) return reason;
  }
  const [program, ...words] = [...IN_NEW_NAMESPACE, ...MORTAL, 'ip', '-batch', '-'];
  const tried = spawnSync(program, words, { input: `${TRIAL.join('\n')}\n`, encoding: 'utf8', timeout: 20_000 });
  if (tried.status === 0) return undefined;
  return `no bridge in a namespace of its own: ${(tried.error?.message ?? tried.stderr).trim().slice(-200)}`;
}

export class Lab {
  /** For whatever files a case needs; it goes with the lab. */
  readonly folder = mkdtempSync(join(tmpdir(), 'rigproof-lab-'));
  readonly #holder: ChildProcess;
  readonly #programs = new Set<ChildProcess>();

  private constructor(holder: ChildProcess) {
    this.#holder = holder;
  }

  /** Does some work in a lab, which is gone afterwards whatever happens. */
  static async with<T>(work: (lab: Lab) => Promise<T>): Promise<T> {
    const lab = await Lab.#open();
    try {
      return await work(lab);
    } finally {
      await lab.#close();
    }
  }

  static async #open(): Promise<Lab> {
    const [program, ...words] = [...IN_NEW_NAMESPACE, ...MORTAL, 'sh', '-c', `${NO_IPV6}; echo open; exec cat`];
    const holder = spawn(program, words, { stdio: ['pipe', 'pipe', 'inherit'] });
    const [said] = (await Promise.race([once(holder.stdout, 'data'), once(holder, 'close')])) as [unknown];
    if (String(said) !== 'open\n') throw new Error(`no lab: its holder ended with ${String(said)}`);
    return new Lab(holder);
  }

  /** Starts a program inside, which ends with the lab at the latest. */
  start(program: string, words: readonly string[], hear?: (text: string) => void): ChildProcess {
    if (hear === undefined) return this.#spawn(program, words, 'ignore');
    const child = this.#spawn(program, words, 'pipe');
    child.stdout?.setEncoding('utf8').on('data', hear);
    return child;
  }

  /** Runs a program inside to its end, and gives what it wrote. */
  async run(
    program: string,
    words: readonly string[],
    { input = '', mostMs }: { readonly input?: string; readonly mostMs: number },
  ): Promise<string> {
    const child = this.#spawn(program, words, 'pipe');
    const guard = setTimeout(() => child.kill('SIGKILL'), mostMs);
    let out = '';
    let problem = '';
    child.stdout?.setEncoding('utf8').on('data', (text: string) => (out += text));
    child.stderr?.setEncoding('utf8').on('data', (text: string) => (problem += text));
    child.stdin?.on('error', () => undefined).end(input);
    const [code, signal] = (await once(child, 'close')) as [number | null, string | null];
    clearTimeout(guard);
    if (code !== 0) throw new Error(`${program} ended with ${String(code ?? signal)}: ${problem}`);
    return out;
  }

  /** Makes links, a line for each `ip` command. */
  async ip(lines: readonly string[]): Promise<void> {
    await this.run('ip', ['-batch', '-'], { input: `${lines.join('\n')}\n`, mostMs: 60_000 });
  }

  #spawn(program: string, words: readonly string[], stdio: 'ignore' | 'pipe'): ChildProcess {
    // Each of these replaces itself with the next: what is killed is the program.
    const inside = [`--net=/proc/${String(this.#holder.pid)}/ns/net`, ...MORTAL, program, ...words];
    const child = spawn('nsenter', inside, { stdio });
    this.#programs.add(child);
    child.once('close', () => this.#programs.delete(child));
    return child;
  }

  async #close(): Promise<void> {
    const all = [...this.#programs, this.#holder].filter((one) => one.exitCode === null && one.signalCode === null);
    const gone = all.map((one) => once(one, 'close'));
    for (const one of all) one.kill('SIGKILL');
    await Promise.all(gone);
    rmSync(this.folder, { recursive: true, force: true });
  }
}

/** The results of some work for each item, in their order; `atOnce` of them are worked on at one time. */
export async function sideBySide<T, R>(
  items: readonly T[],
  atOnce: number,
  work: (item: T) => Promise<R>,
): Promise<readonly R[]> {
  const results: R[] = [];
  const left = items.entries();
  const worker = async (): Promise<void> => {
    for (const [index, item] of left) results[index] = await work(item);
  };
  await Promise.all(Array.from({ length: atOnce }, worker));
  return results;
}
