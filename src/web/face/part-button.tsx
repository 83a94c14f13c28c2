/** A part's name that chooses it, wherever a part is named. */
export function PartButton(props: {
  readonly id: string;
  readonly name: string;
  readonly choose: (id: string, open: boolean) => void;
  readonly chosen?: boolean;
}) {
  return (
    <button
      type="button"
      className="part-button"
      aria-current={props.chosen ? "true" : undefined}
      onClick={() => props.choose(props.id, true)}
    >
      {props.name}
    </button>
  );
}
