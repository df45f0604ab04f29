#!/usr/bin/env python3
"""Looks over the dependency tree that the program is built from on Linux: no library that needs C or
speaks to a network (sockets in the file system are none), no source but the registry, only licences
that are known to be fine.

    cargo metadata --locked --format-version 1 --filter-platform x86_64-unknown-linux-gnu | tree.py
"""
import json
import re
import sys

BANNED = {
    # C libraries, at build time or at run time
    "alsa", "alsa-sys", "bindgen", "cc", "cmake", "jack-sys", "libdbus-sys", "libpulse-sys",
    "libsqlite3-sys", "libz-sys", "ncurses", "openssl-sys", "pkg-config",
    # the network
    "curl", "hyper", "native-tls", "reqwest", "rustls", "tokio", "ureq",
}
FINE = {
    "0BSD", "Apache-2.0", "Apache-2.0 WITH LLVM-exception", "BSD-2-Clause", "BSD-3-Clause", "BSL-1.0",
    "ISC", "MIT", "Unicode-3.0", "Unlicense", "Zlib",
}


# Libraries that could speak to a network, and who may use them: for sockets in the file system alone.
# tests/suite/desktop.rs and tests/suite/sounds.rs hold that addresses of other kinds are refused.
ONLY_FOR = {
    "mio": {"crossterm", "pulseaudio", "signal-hook-mio"},
    "socket2": {"zbus", "zruntime"},
    "zbus": {"notify-rust", "rackside"},
    "zruntime": {"zbus"},
}
# Features that bring a network in.
BANNED_FEATURES = {
    ("notify-rust", "tokio"), ("zbus", "tokio"), ("zbus", "tokio-vsock"), ("zbus", "vsock"),
}


def is_fine(licence):
    """Whether a choice among the licences of an expression is fine in all its parts."""
    expression = licence.replace("/", " OR ")
    tokens = re.findall(r"\(|\)|AND|OR|[\w.+-]+(?: WITH [\w.+-]+)?", expression)
    words = {"(": "(", ")": ")", "AND": "and", "OR": "or"}
    return eval(" ".join(words.get(token, str(token in FINE)) for token in tokens))


def main():
    metadata = json.load(sys.stdin)
    packages = {package["id"]: package for package in metadata["packages"]}
    nodes = {node["id"]: node for node in metadata["resolve"]["nodes"]}
    todo, seen = [metadata["resolve"]["root"]], set()
    while todo:
        node = todo.pop()
        if node in seen:
            continue
        seen.add(node)
        for dependency in nodes[node]["deps"]:
            if any(kind["kind"] != "dev" for kind in dependency["dep_kinds"]):
                todo.append(dependency["pkg"])
    problems = []
    for package in sorted((packages[node] for node in seen), key=lambda package: package["name"]):
        name = f"{package['name']} {package['version']}"
        if package["name"] in BANNED:
            problems.append(f"{name} must not be in the tree")
        if package["links"] and package["name"] not in {"rayon-core", "prettyplease"}:
            problems.append(f"{name} links the library {package['links']}")
        source = package["source"]
        if source and not source.startswith("registry+https://github.com/rust-lang/crates.io-index"):
            problems.append(f"{name} comes from {source}")
        if not package["license"] or not is_fine(package["license"]):
            problems.append(f"{name} has the licence {package['license']}")
    for node in seen:
        user = packages[node]["name"]
        for dependency in nodes[node]["deps"]:
            used = packages[dependency["pkg"]]["name"]
            real = any(kind["kind"] != "dev" for kind in dependency["dep_kinds"])
            if real and user not in ONLY_FOR.get(used, {user}):
                problems.append(f"{user} must not use {used}")
        for feature in nodes[node]["features"]:
            if (user, feature) in BANNED_FEATURES:
                problems.append(f"{user} must not have the feature {feature}")
    for problem in problems:
        print(problem)
    print(f"{len(seen)} packages looked over, {len(problems)} problems")
    return 1 if problems else 0


if __name__ == "__main__":
    sys.exit(main())
