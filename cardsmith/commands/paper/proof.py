"""``cardsmith proof``: the paper an editor signs, numbered when it is issued."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING

import click

from cardsmith.bench.wording import several
from cardsmith.commands.terminal import FINE, FOUND, IN_EDITION, Command, code_of, say
from cardsmith.engine.machine.output import proof_file
from cardsmith.house.publication import Publication, card_files
from cardsmith.proof.issued import keep

if TYPE_CHECKING:
    from cardsmith.proof.account import Account


_REFUSED = "not issued: an editor signs what can be printed, so mend the errors first"


def _date(context: click.Context, option: click.Parameter, value: str | None) -> str:
    """The date of issue; today's where none is given."""
    if value is None:
        return datetime.date.today().isoformat()
    try:
        return datetime.date.fromisoformat(value).isoformat()
    except ValueError as fault:
        raise click.BadParameter("write it as 2026-06-02") from fault


@click.command(
    cls=Command,
    examples=[
        "cardsmith proof rye-crackers           to look at: what is open, what changed since the last one",
        "cardsmith proof rye-crackers --edition uk   in another edition, with every word changed for it",
        "cardsmith proof rye-crackers --issue   to sign: numbered, and kept beside the recipe",
    ],
)
@click.argument("name")
@click.option("--issue", is_flag=True, help="Number it and keep it; the next proof marks what changed since.")
@IN_EDITION
@click.option("--date", callback=_date, metavar="DATE", help="The date of issue (default: today).")
@click.pass_obj
def proof(publication: Publication, name: str, issue: bool, edition: str, date: str) -> int:
    """Write the proof of NAME for an editor to sign: build/cards/NAME/NAME-proof.pdf.

    It shows the card at size, the queries with room for answers, every number with its error, what the author
    answered, the trials behind it and the portion, and marks what changed since the proof last issued. A
    draft with errors prints marked as such and can't be issued.
    """
    from cardsmith.engine.products.proofing import account_of, desk_of, proof_of  # noqa: PLC0415 - the typesetter

    ((recipe, file),) = card_files(publication, (name,)).items()
    desk, findings = desk_of(publication, recipe, file, edition)
    if desk is None:
        say(findings, {publication.shown(file): publication.text(file)}, as_json=False)
        return FOUND
    target = proof_file(recipe, desk.house.edition)
    publication.output.place(target)
    account, issued = account_of(desk), None
    if issue and account.issued:
        said = f"proof {account.issued.number} of {account.issued.date} says all this: not numbered again"
        click.echo(f"nothing has changed; {said}", err=True)
    elif issue and account.is_draft:
        click.echo(_REFUSED, err=True)
    elif issue:
        issued = account.snapshot(date)
        account = account_of(desk, issued)
    pdf, findings = proof_of(desk, account)
    errors = [finding for finding in findings if code_of([finding]) == FOUND]
    unset = bool(errors)
    say(errors, {}, as_json=False)
    if unset and issued:
        click.echo(_REFUSED, err=True)
        issued, account = None, account_of(desk)
        pdf, _ = proof_of(desk, account)
    with publication.output.staged({target: pdf}) as put:
        publication.output.remove([target])  # an older proof must not pass for the one that is being kept
        if issued:
            click.echo(f"wrote {publication.shown(keep(file, issued, desk.house.edition))}")
        put()
    click.echo(f"wrote {publication.shown(publication.build / target)}")
    if said := _told(account):
        click.echo(said)
    return FOUND if account.is_draft or unset else FINE


def _told(account: Account) -> str:
    """In a few lines what the proof shows."""
    errors = sum(finding.severity == "error" for finding in account.prepared.findings)
    lines = [f"a draft with {several(errors, 'error')}: not for press"] if account.is_draft else []
    if account.issued:
        lines.append(f"this is proof {account.issued.number}, issued {account.issued.date}")
    if account.previous:
        since = f"proof {account.previous.number} of {account.previous.date}"
        lines.append(f"{several(len(account.changes.listed), 'text')} changed since {since}")
        lines += [
            f"  {change.place}: {number.new.author if number.new else 'taken out'}: {backing.said}"
            for change, backings in zip(account.changes.listed, account.backings, strict=True)
            for number, backing in zip(change.numbers, backings, strict=True)
            if backing.missing
        ]
    lines = lines or ["no proof was issued yet; --issue numbers one"]
    return "\n".join(lines)
