#!/usr/bin/env python3
"""Shows that check_bag.py refuses what is no bag and takes what is one: bags with one fault each, made here.

The cases marked `suite` are those that the Library of Congress's bagit-conformance-suite (github, LibraryOfCongress; public
domain) names: a folder of valid, invalid, linux-only, windows-only and warning bags for 0.97 and 1.0. Names alone were taken
over, as they stand in that suite's tree and in the tests of Archive::BagIt (Perl), which runs it; the bags are ours, and an
invalid case of 0.97 is made for 1.0 too. Cases marked `rfc` are sentences of RFC 8493, by section.

usage: bag_cases_test.py
"""

import hashlib
import pathlib
import subprocess
import sys
import tempfile

import bag_rules

HERE = pathlib.Path(__file__).resolve().parent
PAYLOAD = {"data/hello.txt": b"hello\n", "data/seed/lot.csv": b"lot,germination\r\nA1,85\r\n"}
SECRET = b"beside the bag\n"


def digest(algorithm, content):
    return hashlib.new(algorithm, content).hexdigest()


def listing(algorithm, files, encoding="utf-8"):
    return "".join(f"{digest(algorithm, files[path])}  {path}\n" for path in sorted(files)).encode(encoding)


def retag(files):
    """The tag manifests anew, so that a change made on purpose is the only fault."""
    for name in [name for name in files if name.startswith("tagmanifest-")]:
        tags = {path: files[path] for path in files if not path.startswith(("data/", "tagmanifest-", "tags/"))}
        files[name] = listing(name.removeprefix("tagmanifest-").removesuffix(".txt"), tags)


class Made:
    """A valid bag; what a case changes is written before the tag manifests are made."""

    def __init__(self, version="1.0", algorithms=None, payload=None, encoding="UTF-8"):
        payload = dict(PAYLOAD if payload is None else payload)
        self.algorithms = algorithms or (["sha512"] if version == "1.0" else ["md5"])
        octets = sum(map(len, payload.values()))
        info = f"Bagging-Date: 2026-06-01\nPayload-Oxum: {octets}.{len(payload)}\n"
        declared = f"BagIt-Version: {version}\nTag-File-Character-Encoding: {encoding}\n"
        self.files = {"bagit.txt": declared.encode(), "bag-info.txt": info.encode(encoding), **payload}
        for algorithm in self.algorithms:
            self.files[f"manifest-{algorithm}.txt"] = listing(algorithm, payload, encoding)
            self.files[f"tagmanifest-{algorithm}.txt"] = b""
        retag(self.files)

    @property
    def manifest(self):
        return f"manifest-{self.algorithms[0]}.txt"

    def put(self, name, content):
        self.files[name] = content
        retag(self.files)
        return self

    def add(self, name, content):
        return self.put(name, self.files.get(name, b"") + content)

    def swap(self, name, old, new):
        assert old in self.files[name], (name, old)
        return self.put(name, self.files[name].replace(old, new))

    def spoil(self, name, content):
        """Without telling any manifest."""
        self.files[name] = content
        return self

    def drop(self, name, told=True):
        del self.files[name]
        if told:
            retag(self.files)
        return self

    def line(self, path, content=SECRET):
        return f"{digest(self.algorithms[0], content)}  {path}\n".encode()

    def lists(self, path, content=SECRET):
        return self.add(self.manifest, self.line(path, content))

    def fetches(self, path):
        return self.put("fetch.txt", f"http://localhost/hello 6 {path}\n".encode())


OUT = "leads out of the bag"
ENCODING = b"Tag-File-Character-Encoding: UTF-8\n"


def suite_invalid(version):
    """The suite's bags that must be refused, and the words they are refused with."""

    def bag():
        return Made(version)

    def twice():
        made = bag()
        return made.lists("data/hello.txt", b"other")

    cases = [
        ("invalid/baginfo-missing-encoding", bag().swap("bagit.txt", ENCODING, b""), "no encoding"),
        ("invalid/bom-in-bagit.txt", bag().swap("bagit.txt", b"BagIt", b"\xef\xbb\xbfBagIt"), "byte-order mark"),
        ("invalid/corrupt-data-file", bag().spoil("data/hello.txt", b"hullo\n"), "does not hold: data/hello.txt"),
        ("invalid/corrupt-tag-file", bag().spoil("bag-info.txt", b"Contact-Name: Nobody\n"), "does not hold: bag-info.txt"),
        ("invalid/extra-file-in-bag", bag().spoil("data/bar", b"bar\n"), "does not list the payload file data/bar"),
        ("invalid/invalid-version-number", bag().swap("bagit.txt", version.encode(), version[1:].encode()), "no version"),
        ("invalid/missing-baginfo", bag().drop("bag-info.txt", told=False), "no file here: bag-info.txt"),
        ("invalid/missing-bagit.txt", bag().drop("bagit.txt"), "bagit.txt is missing"),
        ("invalid/missing-from-manifest", bag().spoil("data/missingFromManifest.txt", b""), "does not list the payload file"),
        ("invalid/same-filename-listed-twice-with-different-hashes", twice(), "twice: data/hello.txt"),
        ("invalid/out-of-scope-file-paths-using-dot-notation", bag().lists("data/../../secret.txt"), OUT),
        ("linux-only/out-of-scope-file-paths-using-absolute-path", bag().lists("/tmp/foo"), OUT),
        ("linux-only/out-of-scope-file-paths-using-shortcut", bag().lists("~/foo"), OUT),
        ("linux-only/out-of-scope-file-paths-using-shortcut-username", bag().lists("~root/foo"), OUT),
        ("windows-only/out-of-scope-file-paths-using-absolute-path", bag().lists("C:\\Windows\\System32\\setx.exe"), OUT),
        ("windows-only/out-of-scope-file-paths-using-shortcut", bag().lists("%HomeDrive%\\Windows\\setx.exe"), OUT),
        ("windows-only/out-of-scope-file-paths-using-unc", bag().lists("\\\\?\\UNC\\server\\Windows\\setx.exe"), OUT),
        ("warning/made-with-md5sum-tools", bag().swap(bag().manifest, b"  data/", b" *data/"), "outside the payload"),
    ]
    fetched = {
        "invalid/out-of-scope-file-paths-using-dot-notation-for-fetch": "../secret.txt",
        "linux-only/out-of-scope-file-paths-using-absolute-path-for-fetch": "/tmp/foo",
        "linux-only/out-of-scope-file-paths-using-shortcut-for-fetch": "~/foo",
        "linux-only/out-of-scope-file-paths-using-shortcut-username-for-fetch": "~root/foo",
        "windows-only/out-of-scope-file-paths-using-absolute-path-for-fetch": "C:\\Windows\\System32\\setx.exe",
        "windows-only/out-of-scope-file-paths-using-shortcut-for-fetch": "%HomeDrive%\\Windows\\setx.exe",
        "windows-only/out-of-scope-file-paths-using-unc-for-fetch": "\\\\?\\UNC\\server\\Windows\\setx.exe",
    }
    cases += [(name, bag().fetches(path), OUT) for name, path in fetched.items()]
    return [(f"suite {version}/{name}", made, words) for name, made, words in cases]


def rfc_invalid():
    """What sentences of the RFC forbid, in bags of version 1.0."""

    def bag(*algorithms):
        return Made(algorithms=list(algorithms) or None)

    tags = "tagmanifest-sha512.txt"

    def tagged(path, content=SECRET):
        made = bag()
        return made.spoil(tags, made.files[tags] + made.line(path, content))

    hello = bag().line("data/hello.txt", b"hello\n")
    half = bag("sha256", "sha512")
    half.swap("manifest-sha256.txt", half.line("data/hello.txt", b"hello\n"), b"")
    cases = [
        ("suite 1.0/invalid/bagit-with-invalid-whitespace", bag().swap("bagit.txt", b"Version:", b"Version :"), "white space"),
        ("2.1.1 three lines", bag().add("bagit.txt", b"More: lines\n"), "not two lines"),
        ("2.1.1 an encoding nobody knows", bag().swap("bagit.txt", b"UTF-8", b"UTF-7000"), "unknown encoding"),
        ("2.1.2 no payload folder", bag().drop("data/hello.txt").drop("data/seed/lot.csv"), "no folder data"),
        ("2.1.3 no payload manifest", bag().drop("manifest-sha512.txt"), "no payload manifest"),
        ("2.1.3 a file that is not there", bag().drop("data/hello.txt"), "no file here: data/hello.txt"),
        ("2.1.3 a folder is listed", bag().lists("data/seed", b""), "no file here: data/seed"),
        ("2.1.3 a line twice", bag().lists("data/hello.txt", b"hello\n"), "twice: data/hello.txt"),
        ("2.1.3 a tag file in a payload manifest", bag().lists("bagit.txt", bag().files["bagit.txt"]), "outside the payload"),
        ("2.1.3 no digest", bag().add("manifest-sha512.txt", b"nonsense  data/hello.txt\n"), "not a digest"),
        ("2.1.3 a digest too short", bag().swap("manifest-sha512.txt", hello[:9], b""), "does not hold: data/hello.txt"),
        ("2.1.3 % not encoded", Made(payload={"data/a%25b": b"1"}), "no file here: data/a%b"),
        ("2.2.1 a payload manifest unlisted", bag().spoil(tags, b""), "every payload manifest"),
        ("2.2.1 a payload file in a tag manifest", tagged("data/hello.txt", b"hello\n"), "of the payload: data/hello.txt"),
        ("2.2.1 a tag manifest in itself", tagged(tags), "lists a tag manifest"),
        ("2.2.2 no space after the colon", bag().swap("bag-info.txt", b"Date: ", b"Date:"), "not a label and a value"),
        ("2.2.2 a space before the colon", bag().swap("bag-info.txt", b"Date: ", b"Date : "), "not a label and a value"),
        ("2.2.2 Payload-Oxum twice", bag().add("bag-info.txt", b"Payload-Oxum: 29.2\n"), "Payload-Oxum"),
        ("2.2.2 Payload-Oxum of other files", bag().swap("bag-info.txt", b".2", b".3"), "Payload-Oxum"),
        ("2.2.3 a tag file is fetched", bag().fetches("bag-info.txt"), "does not list: bag-info.txt"),
        ("2.2.3 no address", bag().put("fetch.txt", b"hello 6 data/hello.txt\n"), "not a URL"),
        ("2.3 a byte-order mark in UTF-8", bag().swap("bag-info.txt", b"Bagging", b"\xef\xbb\xbfBagging"), "byte-order mark"),
        ("2.3 not of the encoding", bag().add("bag-info.txt", b"Place: \xe9tang\n"), "not in utf-8"),
        ("2.3 a line without end", bag().swap("bag-info.txt", b".2\n", b".2"), "is not ended"),
        ("2.4 a digest nobody knows", bag().put("manifest-sha9000.txt", b"00  data/hello.txt\n"), "no digest of this name"),
        ("3 in one manifest of two", half, "manifest-sha256.txt does not list the payload file data/hello.txt"),
    ]
    # 5.1: "/", ".." or "~username" in tagmanifest-sha512.txt, of a file that is there and whose digest is right.
    linked = Made(payload={"data/hello.txt": SECRET}).spoil("data/hello.txt", pathlib.PurePath("../../secret.txt"))
    cases.append(("5.1 a link out of the bag", linked, "by a link"))
    outside = ("../secret.txt", "tags/../../secret.txt", "/etc/passwd", "~root/secret.txt")
    cases += [(f"5.1 {path}", tagged(path), OUT) for path in outside]
    return [(name if name.startswith("suite") else f"rfc {name}", made, words) for name, made, words in cases]


def valid():
    """What must be taken."""
    lines = {"data/line%0Dend%0Afile.txt": b"1"}
    escapes = Made("0.97", payload={"data/a b.txt": b"1", "data/50%.txt": b"2", "data/%7Eroot": b"3"})
    manifest = Made("0.97").swap("manifest-md5.txt", b"  data/", b"  ./data/")
    loose = Made("0.97").put("bag-info.txt", b"Contact-Name :  Nobody\nBagging-Date\t:2026-06-01\n")
    once = Made("0.97", ["md5", "sha256"])
    once.swap("manifest-sha256.txt", listing("sha256", {"data/hello.txt": b"hello\n"}), b"")
    inner = {f"data/inner/{name}": content for name, content in Made().files.items()}
    upper = Made(algorithms=["sha256"])
    for path, content in PAYLOAD.items():
        upper.swap(upper.manifest, upper.line(path, content), f"{digest('sha256', content).upper()}\t{path}\n".encode())
    latin = Made("0.97", encoding="ISO-8859-1").add("bag-info.txt", b"Place: \xe9tang\n")
    minimal = Made("0.97").drop("bag-info.txt").drop("tagmanifest-md5.txt")
    cases = [
        ("suite 1.0/valid/basicBag", Made()),
        ("suite 0.97/valid/basic-bag", Made("0.97")),
        ("suite 0.97/valid/minimal-bag", minimal),
        ("suite 0.97/valid/bag-in-a-bag", Made("0.97", payload=inner)),
        ("suite 0.97/valid/bag-with-encoded-names", (Made("0.97", payload=lines), "names")),
        ("suite 0.97/valid/bag-with-escapable-characters", escapes),
        ("suite 0.97/valid/bag-with-leading-dot-slash-in-manifest", manifest),
        ("suite 0.97/valid/bag-with-space", Made("0.97", payload={"data/two words.txt": b"1"})),
        ("suite 0.97/valid/duplicate-metadata-entries", Made("0.97").add("bag-info.txt", b"Place: A\nPlace: B\n")),
        ("suite 0.97/valid/holey-bag", Made("0.97").fetches("data/hello.txt")),
        ("suite 0.97/valid/ISO-8859-1-encoded-tag-files", latin),
        ("suite 0.97/valid/UTF-16-encoded-tag-files", (Made("0.97", encoding="UTF-16").drop("tagmanifest-md5.txt"), "")),
        ("suite 0.97/valid/uncommon-metadata-separators", loose),
        ("suite 0.97/warning/same-filename-listed-twice-with-the-same-hash", Made("0.97").lists("data/hello.txt", b"hello\n")),
        ("rfc 2.1.3 upper-case digests, tabs", upper),
        ("rfc 2.1.3 names with CR and LF", (Made(payload=lines), "names")),
        ("rfc 2.2.2 a long value, a label with spaces", Made().add("bag-info.txt", b"Where it was: in the\n   field\n")),
        ("rfc 2.3 lines that end with CRLF", Made().put("bag-info.txt", Made().files["bag-info.txt"].replace(b"\n", b"\r\n"))),
        ("rfc 2.2.4 a tag folder that no manifest lists", Made().spoil("tags/more.xml", b"<more/>")),
        ("rfc 3 before 1.0: in one manifest of two", once),
    ]
    cases += [(f"suite 0.97/valid/basic-bag-{a}", Made("0.97", [a])) for a in ("sha1", "sha224", "sha256", "sha512")]
    return [(name, *(made if isinstance(made, tuple) else (made, ""))) for name, made in cases]


def write(made, folder, names=""):
    """names: the payload's paths are written decoded."""
    for path, content in made.files.items():
        if names:
            path = path.replace("%0D", "\r").replace("%0A", "\n")
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        if isinstance(content, pathlib.PurePath):
            target.symlink_to(content)
        else:
            target.write_bytes(content)


def judge(made, names="", program=None):
    """Faults of the bag, by the rules that check_bag.py goes by; or what a program says of it where it refuses."""
    with tempfile.TemporaryDirectory() as scratch:
        bag = pathlib.Path(scratch) / "bag"
        bag.mkdir()
        (pathlib.Path(scratch) / "secret.txt").write_bytes(SECRET)
        write(made, bag, names)
        if program is None:
            return "\n".join(bag_rules.faults_of(bag))
        done = subprocess.run([sys.executable, "-B", *program, bag], capture_output=True, text=True, check=False)
        return "" if done.returncode == 0 else f"{done.stderr.strip()} (status {done.returncode})"


def main():
    invalid = suite_invalid("0.97") + suite_invalid("1.0") + rfc_invalid()
    wrong = []
    for name, made, words in invalid:
        said = judge(made)
        if words not in said:
            wrong.append(f"{name}: not refused with '{words}': {said or 'taken'}")
    good = valid()
    wrong += [f"{name}: refused: {said}" for name, made, names in good if (said := judge(made, names))]
    # The program itself says what the rules say.
    check_bag = (HERE / "check_bag.py",)
    if judge(good[0][1], program=check_bag) or not judge(invalid[2][1], program=check_bag).endswith("(status 1)"):
        wrong.append("check_bag.py says otherwise than bag_rules.py")
    if wrong:
        sys.exit("\n".join(wrong))
    print(f"{len(invalid)} bags with a fault refused by name, {len(good)} valid ones taken")


main()
