/** Names of tables for kinds of feature: small letters, digits and `_` only, none twice. */
export function tableNames(kinds: readonly string[]): Map<string, string> {
  const names = new Map<string, string>();
  const taken = new Set<string>();
  for (const kind of kinds) {
    const plain = kind
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "_")
      .slice(0, 40);
    const first = /^[a-z]/.test(plain) ? plain : `kind_${plain}`;
    let name = first;
    for (let n = 2; taken.has(name); n++) name = `${first}_${n}`;
    taken.add(name);
    names.set(kind, name);
  }
  return names;
}
