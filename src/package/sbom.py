#!/usr/bin/env python3
"""What is linked into a package, as SPDX 2.3 JSON (spdx.github.io/spdx-spec/v2.3): sbom.py BUILD PACKAGE.deb OUT.

Shared libraries are those that the loader finds for the program and its modules; what is linked statically, or is all headers, is known by the
headers that the compiler read (ninja -t deps). Each is named by its Debian package, version and source.
"""
import datetime
import hashlib
import json
import os
import pathlib
import re
import subprocess
import sys


def output(*words):
    return subprocess.run(words, capture_output=True, text=True, check=True).stdout


def owners(paths):
    """The packages that brought these files."""
    paths = sorted({os.path.realpath(path) for path in paths})
    found = subprocess.run(["dpkg-query", "--search", *paths], capture_output=True, text=True).stdout if paths else ""
    lines = [line for line in found.splitlines() if ": " in line and not line.startswith("diversion ")]
    missing = set(paths) - {line.partition(": ")[2] for line in lines}
    if missing:  # a merged /usr: the package names its files by the old place
        old = [path.removeprefix("/usr") for path in sorted(missing)]
        lines += subprocess.run(["dpkg-query", "--search", *old], capture_output=True, text=True).stdout.splitlines()
    return {name.strip().partition(":")[0] for line in lines if ": " in line for name in line.partition(": ")[0].split(",")}


def shared(build):
    programs = [build / "layright", *(build / "lib" / "layright").glob("*.so")]
    found = {path for program in programs for path in re.findall(r"=> (/\S+)", output("ldd", str(program)))}
    # What is loaded by its name when it is asked for.
    names = {name.decode() for program in programs for name in re.findall(rb"lib[a-z0-9+-]+\.so\.\d+", program.read_bytes())}
    known = dict(re.findall(r"^\s+(\S+) \(.*\) => (/\S+)$", output("/sbin/ldconfig", "-p"), re.M))
    return found | {known[name] for name in names if name in known}


def headers(build):
    """System headers that the sources of the program, not those of its tests, have read."""
    found, ours = set(), False
    for line in output("ninja", "-C", str(build), "-t", "deps").splitlines():
        if not line.startswith(" "):
            ours = line.startswith("src/")
        elif ours and line.strip().startswith("/usr/"):
            found.add(line.strip())
    return found


def main():
    build, package, out = map(pathlib.Path, sys.argv[1:])
    linked, read = owners(shared(build)), owners(headers(build))
    facts = {}
    for line in output("dpkg-query", "-W", "-f", "${Package}\t${Version}\t${Architecture}\t${source:Package}\n", *sorted(linked | read)).splitlines():
        name, version, architecture, source = line.split("\t")
        facts.setdefault(name, (version, architecture, source))
    shared_sources = {facts[name][2] for name in linked}
    name, version = output("dpkg-deb", "--show", "--showformat", "${Package}\t${Version}", str(package)).split("\t")
    digest = hashlib.sha256(package.read_bytes()).hexdigest()
    made = datetime.datetime.fromtimestamp(int(os.environ.get("SOURCE_DATE_EPOCH", package.stat().st_mtime)), datetime.timezone.utc)

    def entry(each, version, **more):
        return {"SPDXID": f"SPDXRef-{re.sub('[^A-Za-z0-9.-]', '-', each)}", "name": each, "versionInfo": version, "downloadLocation": "NOASSERTION",
                "filesAnalyzed": False, "licenseConcluded": "NOASSERTION", "licenseDeclared": "NOASSERTION", "copyrightText": "NOASSERTION", **more}

    own = entry(name, version, checksums=[{"algorithm": "SHA256", "checksumValue": digest}], packageFileName=package.name)
    own["licenseDeclared"] = "AGPL-3.0-only"
    packages, relations = [own], [{"spdxElementId": "SPDXRef-DOCUMENT", "relationshipType": "DESCRIBES", "relatedSpdxElement": own["SPDXID"]}]
    for each, (number, architecture, source) in sorted(facts.items()):
        purl = f"pkg:deb/debian/{each}@{number}?arch={architecture}&distro=debian-12"
        packages.append(entry(each, number, sourceInfo=f"built from the Debian source package {source}",
                              externalRefs=[{"referenceCategory": "PACKAGE-MANAGER", "referenceType": "purl", "referenceLocator": purl}]))
        # Headers of what is loaded at run time only helped to build; others are in the program itself.
        kind = "DYNAMIC_LINK" if each in linked else "BUILD_DEPENDENCY_OF" if source in shared_sources else "STATIC_LINK"
        pair = [own["SPDXID"], packages[-1]["SPDXID"]]
        if kind == "BUILD_DEPENDENCY_OF":
            pair.reverse()
        relations.append({"spdxElementId": pair[0], "relationshipType": kind, "relatedSpdxElement": pair[1]})
    document = {"spdxVersion": "SPDX-2.3", "dataLicense": "CC0-1.0", "SPDXID": "SPDXRef-DOCUMENT", "name": package.stem,
                "documentNamespace": f"https://layright.invalid/spdx/{package.stem}-{digest}",
                "creationInfo": {"created": made.strftime("%Y-%m-%dT%H:%M:%SZ"), "creators": ["Tool: layright-sbom"]},
                "packages": packages, "relationships": relations}
    out.write_text(json.dumps(document, indent=1) + "\n")


main()
