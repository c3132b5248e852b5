"""Lets ffmpeg send an RTP stream over a veth pair in a lab (`../lab.ts`) and counts the packets that come out.

Reads the arguments of ffmpeg (a JSON list) from standard input; {url} in them is where to send to. Writes the number of
packets and the sum of their IP lengths.
"""
import json
import os
import socket
import subprocess
import sys

from packets import ETH_P_IP
from space import ip

ADDRESS = '10.0.0.1'
GROUP = '239.1.1.1'
PORT = 5004
SO_RCVBUFFORCE = 33
# Holds the longest of the streams, of a few ten thousand packets.
BUFFER_OCTETS = 1 << 28


def main():
    ip(['link set lo up', 'link add tx0 mtu 9216 type veth peer name rx0 mtu 9216', f'address add {ADDRESS}/16 dev tx0', 'link set rx0 up', 'link set tx0 up'])
    print(json.dumps(count(json.load(sys.stdin))))


def count(arguments):
    tap = socket.socket(socket.AF_PACKET, socket.SOCK_RAW, 0)
    tap.setsockopt(socket.SOL_SOCKET, SO_RCVBUFFORCE, BUFFER_OCTETS)
    tap.setblocking(False)
    tap.bind(('rx0', ETH_P_IP))
    url = f'rtp://{GROUP}:{PORT}?localaddr={ADDRESS}&ttl=8&pkt_size='
    done = subprocess.run(
        ['ffmpeg', '-hide_banner', '-loglevel', 'error', '-nostdin', *[one.replace('{url}', url) for one in arguments]],
        stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True, timeout=60)
    if done.returncode != 0:
        raise RuntimeError(done.stderr)
    packets, octets = 0, 0
    while True:
        try:
            frame = tap.recv(9300)
        except BlockingIOError:
            break
        # No options are sent: the UDP header follows 20 octets of IP.
        if frame[23] == socket.IPPROTO_UDP and int.from_bytes(frame[36:38], 'big') == PORT:
            packets += 1
            octets += int.from_bytes(frame[16:18], 'big')
    tap.close()
    return {'packets': packets, 'ipOctets': octets}


main()
sys.stdout.flush()
os._exit(0)
