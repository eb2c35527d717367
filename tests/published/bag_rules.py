"""A bag by RFC 8493 (BagIt 1.0) and, where they differ, by the drafts 0.93 to 0.97 before it. No code of Ligule's, nor of any
other reader of bags: written from the text of the RFC, whose sections stand beside the rules."""

import codecs
import hashlib
import re

VERSIONS = ("0.93", "0.94", "0.95", "0.96", "0.97", "1.0")


class Unreadable(Exception):
    """What makes the rest of a bag senseless to look at."""


def declaration(bag):
    """2.1.1: version and encoding of the tag files; exactly two lines, UTF-8, no byte-order mark."""
    path = bag / "bagit.txt"
    if not path.is_file():
        raise Unreadable("bagit.txt is missing")
    content = path.read_bytes()
    if content.startswith(codecs.BOM_UTF8):
        raise Unreadable("bagit.txt begins with a byte-order mark")
    lines = [*content.decode("utf-8").splitlines(), "", ""]
    # Spaces around the colon were allowed before 1.0 (2.2.2).
    version = re.fullmatch(r"BagIt-Version *: *([0-9]+\.[0-9]+)", lines[0])
    if not version or version[1] not in VERSIONS:
        raise Unreadable("bagit.txt states no version of BagIt")
    encoding = re.fullmatch(r"Tag-File-Character-Encoding *: *(\S+)", lines[1])
    if not encoding:
        raise Unreadable("bagit.txt states no encoding")
    if version[1] == "1.0" and any(re.search(r" :|:(?! \S)", line) for line in lines[:2]):
        raise Unreadable("bagit.txt has other white space than one after the colon")
    if len(lines) != 4:
        raise Unreadable("bagit.txt is not two lines")
    try:
        return version[1], codecs.lookup(encoding[1]).name
    except LookupError:
        raise Unreadable(f"bagit.txt states an unknown encoding: {encoding[1]}") from None


class Bag:
    def __init__(self, bag):
        self.bag = bag
        self.faults = []
        self.version, self.encoding = declaration(bag)
        self.final = self.version == "1.0"

    def fault(self, what):
        self.faults.append(what)

    def lines(self, name):
        """2.3: lines of a tag file, in the encoding declared, each ended by LF, CR or CRLF."""
        content = (self.bag / name).read_bytes()
        if self.encoding == "utf-8" and content.startswith(codecs.BOM_UTF8):
            self.fault(f"{name} begins with a byte-order mark")
        try:
            text = content.decode(self.encoding)
        except UnicodeDecodeError:
            self.fault(f"{name} is not in {self.encoding}")
            return []
        if self.final and text and text[-1] not in "\r\n":
            self.fault(f"{name}: the last line is not ended")
        return [line for line in re.split(r"\r\n|\r|\n", text) if line]

    def path(self, listed, name):
        """2.1.3, 5.1: a path from the bag's top as it is listed, decoded; None where it leads out of the bag."""
        # Only LF, CR and, from 1.0 on, % itself are encoded.
        coded = r"%(0[AaDd]|25)" if self.final else r"%(0[AaDd])"
        path = re.sub(coded, lambda match: chr(int(match[1], 16)), listed)
        path = path.removeprefix("./")
        parts = path.split("/")
        if path.startswith(("/", "~", "\\", "%HomeDrive%")) or ".." in parts or re.match(r"[A-Za-z]:", path):
            self.fault(f"{name} leads out of the bag: {listed}")
            return None
        if not (self.bag / path).resolve().is_relative_to(self.bag.resolve()):
            self.fault(f"{name} leads out of the bag by a link: {listed}")
            return None
        return path

    def manifest(self, name):
        """2.1.3, 2.2.1: the paths a manifest lists; every digest is held against its file."""
        tag = name.startswith("tag")
        algorithm = re.fullmatch(r"(?:tag)?manifest-([a-z0-9]+)\.txt", name)
        if not algorithm or algorithm[1] not in hashlib.algorithms_available:
            self.fault(f"{name}: no digest of this name")
            return {}
        digests = {}
        for line in self.lines(name):
            match = re.fullmatch(r"([0-9A-Fa-f]+)[ \t]+(.+)", line)
            if not match:
                self.fault(f"{name}: not a digest and a path: {line[:60]}")
                continue
            path = self.path(match[2], name)
            if path is None:
                continue
            digest = match[1].lower()
            if path.startswith("data/") == tag:
                self.fault(f"{name} lists what is {'of' if tag else 'outside'} the payload: {path}")
                continue
            if tag and path.startswith("tagmanifest-"):
                self.fault(f"{name} lists a tag manifest")
            # Before 1.0 a line might stand twice if it said the same.
            if path in digests and (self.final or digests[path] != digest):
                self.fault(f"{name} lists a file twice: {path}")
            digests[path] = digest
            if not (self.bag / path).is_file():
                self.fault(f"{name} lists what is no file here: {path}")
            elif hashlib.new(algorithm[1], (self.bag / path).read_bytes()).hexdigest() != digest:
                self.fault(f"{name}: the digest does not hold: {path}")
        return digests

    def check_manifests(self):
        """2.1.3, 2.2.1, 3: a payload file is in every manifest (before 1.0: in one), a manifest in every tag manifest."""
        names = sorted(p.name for p in self.bag.iterdir() if re.match(r"(tag)?manifest-.*\.txt$", p.name))
        payload = {p.relative_to(self.bag).as_posix() for p in (self.bag / "data").rglob("*") if p.is_file()}
        manifests = {name: self.manifest(name) for name in names if name.startswith("manifest-")}
        if not manifests:
            self.fault("there is no payload manifest")
        for path in sorted(payload):
            lacking = [name for name, listed in manifests.items() if path not in listed]
            if lacking and (self.final or len(lacking) == len(manifests)):
                self.fault(f"{lacking[0]} does not list the payload file {path}")
        for name in names:
            if name.startswith("tagmanifest-"):
                listed = self.manifest(name)
                if self.final and not set(manifests) <= set(listed):
                    self.fault(f"{name} does not list every payload manifest")
        return manifests, payload

    def check_fetch(self, manifests):
        """2.2.3: URL, length or -, path of a payload file that every payload manifest lists."""
        if not (self.bag / "fetch.txt").is_file():
            return
        for line in self.lines("fetch.txt"):
            match = re.fullmatch(r"[A-Za-z][A-Za-z0-9+.-]*:\S+[ \t]+([0-9]+|-)[ \t]+(.+)", line)
            if not match:
                self.fault(f"fetch.txt: not a URL, a length and a path: {line[:60]}")
                continue
            path = self.path(match[2], "fetch.txt")
            if path is not None and not all(path in listed for listed in manifests.values()):
                self.fault(f"fetch.txt names what a payload manifest does not list: {path}")

    def check_info(self, payload):
        """2.2.2: labels and values; Payload-Oxum at most once, and true."""
        if not (self.bag / "bag-info.txt").is_file():
            return
        form = r"[^\s:](?:[^:]*[^\s:])?:[ \t](?:\S.*)?" if self.final else r"[^:]+:.*"
        oxums = []
        for line in self.lines("bag-info.txt"):
            if line[0] in " \t":
                continue
            if not re.fullmatch(form, line):
                self.fault(f"bag-info.txt: not a label and a value: {line[:60]}")
            if line.lower().startswith("payload-oxum"):
                oxums.append(line.partition(":")[2].strip())
        octets = sum((self.bag / path).stat().st_size for path in payload)
        if oxums and oxums != [f"{octets}.{len(payload)}"]:
            self.fault(f"Payload-Oxum is not once {octets}.{len(payload)}")


def faults_of(folder):
    """Every fault of the bag in this folder, a line each; none: it is complete and valid (section 3)."""
    try:
        bag = Bag(folder)
        if not (folder / "data").is_dir():
            raise Unreadable("there is no folder data")
        manifests, payload = bag.check_manifests()
        bag.check_fetch(manifests)
        bag.check_info(payload)
        return bag.faults
    except (Unreadable, UnicodeDecodeError) as fault:
        return [str(fault)]
