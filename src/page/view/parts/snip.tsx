// A snip of a fabric: its colour, or its cloth where there is a snapshot of it. For the eye only; the name stands beside it.

export function Snip(props: { readonly colour: string; readonly cloth?: string | undefined }) {
  return (
    <span class="snip" aria-hidden="true">
      <svg viewBox="0 0 24 24" aria-hidden="true">
        <rect width="24" height="24" fill={props.colour} />
        {props.cloth && <image href={props.cloth} width="24" height="24" preserveAspectRatio="xMidYMid slice" />}
      </svg>
    </span>
  );
}
