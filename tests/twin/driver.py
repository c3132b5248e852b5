"""Builds rigs out of Linux bridges and sees which links and hosts each stream reaches.

Reads a list of benches (JSON) from standard input, runs them side by side, writes what it saw to standard output.

Runs in a lab (`lab.ts`). Every switch and every host is a further network namespace that has no name: it lives only
while this process holds it open, so that nothing is left behind however the process ends.
One bridge stands for a VLAN on a switch, one veth pair for a VLAN on a link; so no frame carries a tag.
"""
import ctypes
import json
import os
import resource
import socket
import struct
import subprocess
import sys
import threading
import time

CLONE_NEWNET = 0x40000000
PACKET_OUTGOING = 4
ETH_P_ALL = 0x0003
ETH_P_IP = 0x0800
IP_ADD_SOURCE_MEMBERSHIP = 39
PIM = 103

# Limits on what one run may do, whatever it is asked.
PACKETS_A_ROUND = 2
MOST_ROUNDS = 8
MOST_STREAMS = 64
MOST_BENCHES = 80
DEADLINE_S = 150

MARK = b'rigproof twin'
QUERY_PERIOD_S = 1.0
FIRST_QUERY_S = 0.3
# A round is over when nothing has come for so long, or at the latest after the second.
QUIET_S = 0.3
LONGEST_ROUND_S = 3

# The kernel changes its networks one step at a time: more builders would only wait for each other.
BUILDERS = threading.BoundedSemaphore(4)

libc = ctypes.CDLL(None, use_errno=True)


def check(result):
    if result != 0:
        number = ctypes.get_errno()
        raise OSError(number, os.strerror(number))


def new_namespace():
    """Moves the calling thread to a namespace of its own and returns a handle on it."""
    check(libc.unshare(CLONE_NEWNET))
    # Without IPv6 no interface speaks unasked.
    for scope in ('all', 'default'):
        write_setting(f'net/ipv6/conf/{scope}/disable_ipv6', '1')
    return os.open('/proc/thread-self/ns/net', os.O_RDONLY | os.O_CLOEXEC)


def enter(namespace):
    check(libc.setns(namespace, CLONE_NEWNET))


def write_setting(name, value):
    try:
        with open(f'/proc/sys/{name}', 'w') as setting:
            setting.write(value)
    except FileNotFoundError:
        pass


def ip(lines):
    """Runs `ip` commands in the thread's namespace."""
    done = subprocess.run(['ip', '-batch', '-'], input='\n'.join(lines) + '\n', capture_output=True, text=True, timeout=60)
    if done.returncode != 0:
        raise RuntimeError(f'ip: {done.stderr.strip()} in {lines}')


def path_of(namespace):
    return f'/proc/{os.getpid()}/fd/{namespace}'


class Host:
    """One host interface, `eth0` of its own namespace."""

    def __init__(self, spec):
        self.spec = spec
        self.namespace = new_namespace()
        self.address = spec['address']
        self.joined = {}
        self.speaking = threading.Event()
        if spec.get('igmpVersion') is not None:
            write_setting('net/ipv4/conf/all/force_igmp_version', str(spec['igmpVersion']))
        write_setting('net/ipv4/igmp_max_memberships', '64')

    def open(self):
        enter(self.namespace)
        ip([f'address add {self.address}/16 dev eth0', 'link set eth0 up'])
        self.tap = tap('eth0')
        self.sender = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
        self.sender.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_IF, socket.inet_aton(self.address))
        self.sender.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_TTL, 8)
        self.sender.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_LOOP, 0)
        self.sender.bind((self.address, 0))

    def join(self, group, source):
        if (group, source) in self.joined:
            return
        enter(self.namespace)
        sock = socket.socket(socket.AF_INET, socket.SOCK_DGRAM)
        member = membership(group, self.address, source)
        sock.setsockopt(socket.IPPROTO_IP, socket.IP_ADD_MEMBERSHIP if source is None else IP_ADD_SOURCE_MEMBERSHIP, member)
        self.joined[(group, source)] = sock

    def leave(self, group, source, aloud):
        self.joined.pop((group, source)).close()
        if aloud:
            # RFC 2236 section 3: a host that was not the last to report may leave in silence, and Linux does.
            self.raw(socket.IPPROTO_IGMP).sendto(summed(struct.pack('!BBH4s', 0x17, 0, 0, socket.inet_aton(group))), ('224.0.0.2', 0))

    def raw(self, protocol):
        enter(self.namespace)
        sock = socket.socket(socket.AF_INET, socket.SOCK_RAW, protocol)
        sock.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_IF, socket.inet_aton(self.address))
        sock.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_TTL, 1)
        sock.setsockopt(socket.IPPROTO_IP, socket.IP_MULTICAST_LOOP, 0)
        if protocol == socket.IPPROTO_IGMP:
            # Router Alert (RFC 2113), which RFC 2236 section 2 and RFC 3376 section 4 ask for.
            sock.setsockopt(socket.IPPROTO_IP, socket.IP_OPTIONS, b'\x94\x04\x00\x00')
        return sock

    def speak(self, kind, version, code):
        """Queries as a querier does, or says hello as a PIM router does, until told to stop."""
        sock = self.raw(socket.IPPROTO_IGMP if kind == 'query' else PIM)
        message = query(version, code) if kind == 'query' else PIM_HELLO
        self.speaking.set()

        def run():
            until = time.monotonic() + DEADLINE_S
            while self.speaking.is_set() and time.monotonic() < until:
                sock.sendto(message, ('224.0.0.1' if kind == 'query' else '224.0.0.13', 0))
                time.sleep(QUERY_PERIOD_S)
            sock.close()

        threading.Thread(target=run, daemon=True).start()


def membership(group, address, source):
    plain = socket.inet_aton(group) + socket.inet_aton(address)
    return plain if source is None else plain + socket.inet_aton(source)


def checksum(message):
    total = sum(struct.unpack(f'!{len(message) // 2}H', message))
    total = (total >> 16) + (total & 0xffff)
    return ~(total + (total >> 16)) & 0xffff


def summed(message):
    return message[:2] + struct.pack('!H', checksum(message)) + message[4:]


def query(version, code):
    """General query: RFC 2236 section 2 or RFC 3376 section 4.1."""
    head = struct.pack('!BBH4s', 0x11, code, 0, b'\0\0\0\0')
    return summed(head if version == 2 else head + struct.pack('!BBH', 2, 1, 0))


# RFC 7761 section 4.9.2, with the holdtime option (type 1) of 105 s.
PIM_HELLO = summed(struct.pack('!BBHHHH', 0x20, 0, 0, 1, 2, 105))


def tap(interface):
    sock = socket.socket(socket.AF_PACKET, socket.SOCK_RAW, 0)
    sock.setblocking(False)
    sock.bind((interface, ETH_P_ALL))
    return sock


def arrived(sock):
    """Numbers of the streams whose packets came in since the last call."""
    found = []
    while True:
        try:
            frame, (_, protocol, kind, *_) = sock.recvfrom(2048)
        except BlockingIOError:
            return found
        if kind == PACKET_OUTGOING or protocol != ETH_P_IP or frame[23] != socket.IPPROTO_UDP:
            continue
        payload = frame[14 + (frame[14] & 15) * 4 + 8:]
        if payload.startswith(MARK):
            found.append(struct.unpack('!I', payload[len(MARK):len(MARK) + 4])[0])


class Bench:
    def __init__(self, spec):
        self.spec = spec
        if len(spec['streams']) > MOST_STREAMS:
            raise ValueError('too many streams')
        self.hosts = {}
        self.switches = {}
        self.link_taps = {}

    def build(self):
        with BUILDERS:
            self.make()
        # A bridge that hears a querier before it has queried itself never stands for election, however low its address.
        time.sleep(FIRST_QUERY_S)
        with BUILDERS:
            self.connect()

    def make(self):
        for host in self.spec['hosts']:
            self.hosts[host['name']] = Host(host)
        for name in self.spec['switches']:
            self.switches[name] = new_namespace()
        for bridge in self.spec['bridges']:
            enter(self.switches[bridge['switch']])
            ip([f"link add {bridge['name']} type bridge {bridge['options']}"])
            if bridge.get('address') is not None:
                # Only after the options: a bridge that starts to query floods for the response interval it has then.
                ip(([] if bridge['address'] == '0.0.0.0' else [f"address add {bridge['address']}/16 dev {bridge['name']}"])
                   + [f"link set {bridge['name']} type bridge mcast_query_use_ifaddr 1 mcast_querier 1"])
        for host in self.spec['hosts']:
            enter(self.switches[host['switch']])
            ip([f"link add {host['port']} type veth peer name eth0 netns {path_of(self.hosts[host['name']].namespace)}",
                f"link set {host['port']} master {host['bridge']} up",
                *slave(host)])
        for link in self.spec['links']:
            near, far = link['ends']
            enter(self.switches[near['switch']])
            ip([f"link add {near['port']} type veth peer name {far['port']} netns {path_of(self.switches[far['switch']])}"])
            for end in link['ends']:
                enter(self.switches[end['switch']])
                ip([f"link set {end['port']} master {end['bridge']}", *slave(end)])
        for host in self.hosts.values():
            host.open()
        for bridge in self.spec['bridges']:
            enter(self.switches[bridge['switch']])
            ip([f"link set {bridge['name']} up"])

    def connect(self):
        for link in self.spec['links']:
            for end in link['ends']:
                enter(self.switches[end['switch']])
                ip([f"link set {end['port']} up"])
        for link in self.spec['links']:
            for end in link['ends']:
                enter(self.switches[end['switch']])
                self.link_taps[end['arrives']] = tap(end['port'])

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
            elif kind in ('query', 'hello'):
                self.hosts[step['host']].speak(kind, step.get('version', 3), 2)
            elif kind == 'silence':
                self.hosts[step['host']].speaking.clear()
            elif kind == 'bridge':
                enter(self.switches[step['switch']])
                ip([f"link set {step['name']} type bridge {step['options']}"])
            elif kind == 'send':
                seen.append(self.send(step.get('rounds', 2)))
            else:
                raise ValueError(kind)
        return seen

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
        taps = [('ports', name, host.tap) for name, host in self.hosts.items()]
        taps += [('links', name, sock) for name, sock in self.link_taps.items()]
        for _, _, sock in taps:
            arrived(sock)
        for number, stream in enumerate(self.spec['streams']):
            for _ in range(PACKETS_A_ROUND):
                self.hosts[stream['host']].sender.sendto(MARK + struct.pack('!I', number), (stream['group'], 5004))
        counts = [{'ports': {}, 'links': {}} for _ in self.spec['streams']]
        until = time.monotonic() + LONGEST_ROUND_S
        busy = True
        while busy and time.monotonic() < until:
            time.sleep(QUIET_S)
            busy = False
            for where, name, sock in taps:
                for number in arrived(sock):
                    counts[number][where][name] = counts[number][where].get(name, 0) + 1
                    busy = True
        return counts


def slave(port):
    options = port.get('options', '')
    return [f"link set {port['port']} type bridge_slave {options}"] if options else []


def run_all(specs):
    results = [{'error': 'not finished in time'} for _ in specs]
    # Waits of one bench run beside the building of others.
    def one(index):
        try:
            bench = Bench(specs[index])
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
    print(json.dumps({'packets': PACKETS_A_ROUND, 'results': run_all(specs)}))
    sys.stdout.flush()
    # The kernel takes back every namespace with the last handle on it.
    os._exit(0)


if __name__ == '__main__':
    main()
