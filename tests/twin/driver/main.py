"""Builds rigs out of Linux bridges or Open vSwitch and sees which links and hosts each stream reaches.

Reads a list of benches (JSON) from standard input, runs them side by side, writes what it saw to standard output.

Runs in a lab (`lab.ts`). Every switch and every host is a further network namespace that has no name: it lives only
while this process holds it open, so that nothing is left behind however the process ends.
"""
import json
import os
import resource
import sys
import threading
import time

from bridges import Bridges
from host import DEADLINE_S, Host
from packets import arrived
from space import BUILDERS
from vswitch import Daemons, OpenVSwitch

# Limits on what one run may do, whatever it is asked.
PACKETS_A_ROUND = 2
MOST_ROUNDS = 12
MOST_STREAMS = 64
MOST_BENCHES = 80

# A round is over when nothing has come for so long, or at the latest after the second.
QUIET_S = 0.3
LONGEST_ROUND_S = 3
HOPS = 8


class Bench:
    def __init__(self, spec, number, daemons):
        self.spec = spec
        if len(spec['streams']) > MOST_STREAMS:
            raise ValueError('too many streams')
        self.hosts = {}
        self.fabric = (OpenVSwitch(spec, self.hosts, daemons, number) if spec['plane'] == 'openvswitch'
                       else Bridges(spec, self.hosts))

    def build(self):
        with BUILDERS:
            for host in self.spec['hosts']:
                self.hosts[host['name']] = Host(host)
        self.fabric.build()

    def run(self):
        seen = []
        for step in self.spec['steps']:
            kind = step['do']
            if kind == 'wait':
                time.sleep(step['seconds'])
            elif kind == 'join':
                self.hosts[step['host']].join(step['group'], step.get('source'))
            elif kind == 'leave':
                self.hosts[step['host']].leave(step['group'], step.get('source'), step.get('aloud', False))
            elif kind in ('query', 'query6', 'hello'):
                self.hosts[step['host']].speak(kind, step.get('version', 3), 2)
            elif kind == 'silence':
                self.hosts[step['host']].speaking.clear()
            elif kind == 'bridge':
                self.fabric.set_bridge(step)
            elif kind == 'cut':
                for link in self.spec['links']:
                    if link['name'] == step['link']:
                        for end in link['ends']:
                            self.fabric.down(end['switch'], end['port'])
            elif kind == 'off':
                self.off(step['switch'])
            elif kind == 'forget':
                self.fabric.forget()
            elif kind == 'send':
                seen.append(self.send(step.get('rounds', 2)))
            else:
                raise ValueError(kind)
        return seen

    def off(self, switch):
        """A switch without power: whatever it was plugged to loses its carrier."""
        for host in self.spec['hosts']:
            if host['switch'] == switch:
                self.fabric.down(switch, host['port'])
        for link in self.spec['links']:
            if any(end['switch'] == switch for end in link['ends']):
                for end in link['ends']:
                    self.fabric.down(end['switch'], end['port'])

    def send(self, needed):
        """Sends rounds until as many in a row as needed went the same way, so that a late report does not count."""
        last, same = None, 0
        for _ in range(MOST_ROUNDS):
            now = self.round()
            same = same + 1 if now == last else 1
            last = now
            if same >= needed:
                break
        return last

    def round(self):
        taps = [('ports', {'0': name}, host.tap) for name, host in self.hosts.items()]
        taps += [('links', names, sock) for names, sock in self.fabric.link_taps]
        for _, _, sock in taps:
            arrived(sock)
        for number, stream in enumerate(self.spec['streams']):
            for _ in range(PACKETS_A_ROUND):
                self.hosts[stream['host']].send(stream['group'], number, HOPS)
        counts = [{'ports': {}, 'links': {}} for _ in self.spec['streams']]
        until = time.monotonic() + LONGEST_ROUND_S
        busy = True
        while busy and time.monotonic() < until:
            time.sleep(QUIET_S)
            busy = False
            for where, names, sock in taps:
                for number, tag, _ in arrived(sock):
                    # A tag that nobody planned there shows.
                    name = names.get(str(tag), f'{next(iter(names.values()), "?")} tagged {tag}')
                    counts[number][where][name] = counts[number][where].get(name, 0) + 1
                    busy = True
        return counts


def run_all(specs, daemons):
    results = [{'error': 'not finished in time'} for _ in specs]
    # Waits of one bench run beside the building of others.
    def one(index):
        try:
            bench = Bench(specs[index], index, daemons)
            bench.build()
            results[index] = {'seen': bench.run()}
        except Exception as problem:
            results[index] = {'error': f'{type(problem).__name__}: {problem}'}

    threads = [threading.Thread(target=one, args=(index,), daemon=True) for index in range(len(specs))]
    for thread in threads:
        thread.start()
    until = time.monotonic() + DEADLINE_S
    for thread in threads:
        thread.join(max(0, until - time.monotonic()))
    return results


def main():
    _, most = resource.getrlimit(resource.RLIMIT_NOFILE)
    resource.setrlimit(resource.RLIMIT_NOFILE, (most, most))
    specs = json.load(sys.stdin)
    if len(specs) > MOST_BENCHES:
        raise ValueError('too many benches')
    daemons = Daemons(sys.argv[1]) if any(spec['plane'] == 'openvswitch' for spec in specs) else None
    print(json.dumps({'packets': PACKETS_A_ROUND, 'results': run_all(specs, daemons)}))
    sys.stdout.flush()
    # The kernel takes back every namespace with the last handle on it.
    os._exit(0)


if __name__ == '__main__':
    main()
