"""A Pygments lexer for plangen designs. Generated from grammar and language tables; do not edit.

Use: `pygmentize -x -l plangen_lexer.py:DesignLexer design.plan`
"""
# ruff: noqa

import re

from pygments.lexer import RegexLexer, bygroups
from pygments.token import (
    Comment, Keyword, Literal, Name, Number, Operator, Punctuation, String, Whitespace,
)


class DesignLexer(RegexLexer):
    """Design texts of plangen."""

    name = "plangen design"
    aliases = ["plangen"]
    filenames = ["*.plan"]
    flags = re.MULTILINE
    tokens = {
        "root": [
            ('#[^\\n]*', Comment.Single),
            ('"[^"\\n]*"', String.Double),
            ('\\d{4}-\\d{1,2}-\\d{1,2}(?!\\d)', Literal.Date),
            ('-?(?:\\d+[ \\t\\x0c\\xa0]*ft[ \\t\\x0c\\xa0]+)?(?:\\d+[- \\xa0]\\d+/\\d+|\\d+/\\d+|\\d+\\.\\d+|\\d+|\\.\\d+)[ \\t\\x0c\\xa0]*(?:in/month|mm/month|in/day|mm/day|ftH2O|L/min|L/s|L/h|m3/h|m3/s|ft/s|m/s|in/h|mm/h|cuft|days|degC|degF|sqft|sqm|bar|day|deg|gal|gph|gpm|kPa|min|mA|psi|Pa|cm|ft|in|m3|mm|yd|A|L|V|h|m|s|%)(?![A-Za-z0-9/])', Number),
            ('-?(?:\\d+[- \\xa0]\\d+/\\d+|\\d+/\\d+|\\d+\\.\\d+|\\d+|\\.\\d+)', Number),
            ('[A-Z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*\\.[a-z]+', Name.Variable),
            ('[A-Z][A-Za-z0-9]*(?:-[A-Za-z0-9]+)*', Name.Entity),
            ('\\->', Operator),
            (':', Punctuation),
            ('\\(', Punctuation),
            ('\\)', Punctuation),
            ('^(?:include|plangen|connection|procedure|mainline|changes|control|hazards|project|records|review|supply|part|site|zone)(?![-.]?[A-Za-z0-9])', Keyword.Declaration),
            ('^(\\t| {1,8})((?:heater[ \\t]+expansion|emitter[ \\t]+spacing|reclaimed[ \\t]+water|purge[ \\t]+pressure|assembly[ \\t]+test|freeze[ \\t]+sensor|pressure[ \\t]+test|quick[ \\t]+coupler|second[ \\t]+source|test[ \\t]+pressure|closing[ \\t]+time|compensating|jurisdiction|master[ \\t]+valve|monthly[ \\t]+rain|reference[ \\t]+et|septic[ \\t]+field|trench[ \\t]+width|warning[ \\t]+tape|check[ \\t]+valve|coordinates|flow[ \\t]+sensor|frost[ \\t]+depth|rain[ \\t]+credit|rain[ \\t]+sensor|relief[ \\t]+flow|septic[ \\t]+tank|soil[ \\t]+sensor|swing[ \\t]+joint|temperature|tracer[ \\t]+wire|contractor|controller|flow[ \\t]+range|monthly[ \\t]+et|chemicals|cure[ \\t]+time|hydrozone|isolation|reclaimed|regulated|regulator|test[ \\t]+time|assembly|blow-out|building|flushing|injector|preparer|pressure|purveyor|revision|strainer|together|address|bedding|changed|cistern|confirm|current|lateral|listing|minor[ \\t]+k|omitted|reading|service|telecom|height|issued|length|nipple|parcel|paving|permit|pop-up|radius|rating|septic|sleeve|source|street|waters|window|added|datum|drain|grade|heads|house|label|meter|moved|north|owner|power|scope|sewer|sheet|storm|units|valve|waive|water|bank|days|drip|flow|from|gain|head|kind|loss|pipe|pond|pump|size|tree|turf|wall|well|wire|arc|bed|gas|lot|tap|tee)(?![-.]?[A-Za-z0-9]))', bygroups(Whitespace, Keyword)),
            ('(?:answers[ \\t]+comment|second[ \\t]+shut-off|critical[ \\t]+level|first[ \\t]+shut-off|plant[ \\t]+factor|relief[ \\t]+valve|second[ \\t]+check|above[ \\t]+grade|check[ \\t]+valve|drain[ \\t]+slope|first[ \\t]+check|full[ \\t]+circle|relief[ \\t]+port|temperature|above[ \\t]+pipe|calibrated|drain[ \\t]+size|insulation|air[ \\t]+inlet|allowance|clearance|enclosure|reference|box[ \\t]+size|exposure|material|pressure|residual|stations|supports|trips[ \\t]+at|because|between|expires|extends|licence|listing|outline|witness|canopy|closed|demand|detail|height|in[ \\t]+box|inrush|joints|lowest|reason|serial|static|cover|depth|drain|gauge|joint|phone|place|plant|reach|riser|route|slope|trade|under|until|best|does|firm|from|held|loss|none|over|rows|side|size|soil|wall|zone|apr|arc|aug|dec|feb|for|jan|jul|jun|mar|may|nov|oct|sep|set|at|by|of|on)(?![-.]?[A-Za-z0-9])', Name.Attribute),
            ('(?:landscape[ \\t]+architect|quick[ \\t]+coupler|master[ \\t]+valve|electrician|flow[ \\t]+sensor|contractor|irrigation|irrigator|isolation|regulator|relocated|assembly|dripline|engineer|existing|injector|strainer|air[ \\t]+gap|bubbler|plumber|removed|testing|ansi-b|arch-d|design|failed|leaked|metric|outlet|passed|tester|wiring|inlet|meter|mixed|rotor|spray|tight|valve|drip|pump|avb|new|pvb|svb|tap|a1|a3|db|dc|ft|rp|us|m)(?![-.]?[A-Za-z0-9])', Keyword.Constant),
            ('(?:north-northeast|north-northwest|south-southeast|south-southwest|east-northeast|east-southeast|typical[ \\t]+values|west-northwest|west-southwest|data[ \\t]+sheet|northeast|northwest|southeast|southwest|declared|measured|replaces|standard|assumed|library|typical|memory|above|along|below|grade|north|south|east|west|and|to)(?![-.]?[A-Za-z0-9])', Operator.Word),
            ('[a-z][a-z0-9]*(?:[-.][a-z0-9]+)*', Name),
            ('[\\{\\},]', Punctuation),
            (r"\n", Whitespace),
            (r"[ \t\r\x0c\xa0]+", Whitespace),
        ]
    }
