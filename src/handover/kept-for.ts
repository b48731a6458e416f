/**
 * Makes something of a plan's part once for all who ask for the same: guide, lists, page, drawings.
 *
 * @param make of a thing and what it depends on beside it; both are never changed
 */
export function keptFor<Of extends object, Beside, Made>(
  make: (of: Of, beside?: Beside) => Made,
): (of: Of, beside?: Beside) => Made {
  const known = new WeakMap<Of, { readonly beside: Beside | undefined; readonly made: Made }>();
  return (of, beside) => {
    const found = known.get(of);
    if (found && found.beside === beside) return found.made;
    const made = make(of, beside);
    known.set(of, { beside, made });
    return made;
  };
}
