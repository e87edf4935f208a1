import java.io.FileInputStream;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.Date;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.TreeMap;
import java.util.logging.LogManager;
import javax.xml.parsers.DocumentBuilderFactory;
import org.verapdf.gf.foundry.VeraGreenfieldFoundryProvider;
import org.verapdf.pdfa.Foundries;
import org.verapdf.pdfa.PDFAParser;
import org.verapdf.pdfa.PDFAValidator;
import org.verapdf.pdfa.flavours.PDFAFlavour;
import org.verapdf.pdfa.results.TestAssertion;
import org.verapdf.pdfa.results.ValidationResult;
import org.verapdf.pdfa.validation.profiles.ErrorArgument;
import org.verapdf.pdfa.validation.profiles.ErrorArgumentImpl;
import org.verapdf.pdfa.validation.profiles.Profiles;
import org.verapdf.pdfa.validation.profiles.Rule;
import org.verapdf.pdfa.validation.profiles.ValidationProfile;
import org.verapdf.pdfa.validation.profiles.Variable;
import org.verapdf.pdfa.validation.validators.ValidatorFactory;
import org.w3c.dom.Element;
import org.w3c.dom.Node;

/**
 * Asks veraPDF's engine whether PDFs keep to profiles: java -cp engine.jar Archive.java 2a=one.pdf ua1=one.pdf ...
 * One line for each argument, "checked", how often something was looked at, and the argument; before it one for each rule
 * that failed, "failed", the rule, how often, and what it says of the first place. Fields are parted by tabs.
 */
public class Archive {
  /** Each rule is counted up to this often. */
  private static final int MOST_FAILURES = 100;

  public static void main(String[] arguments) throws Exception {
    LogManager.getLogManager().reset();
    VeraGreenfieldFoundryProvider.initialise();
    for (String argument : arguments) {
      String[] parts = argument.split("=", 2);
      check(PDFAFlavour.byFlavourId(parts[0]), parts[1], argument);
    }
    System.exit(0);
  }

  private static void check(PDFAFlavour flavour, String file, String argument) throws Exception {
    try (InputStream stream = new FileInputStream(file);
        PDFAParser parser = Foundries.defaultInstance().createParser(stream, flavour);
        PDFAValidator validator = ValidatorFactory.createValidator(profileOf(flavour), MOST_FAILURES, true, true, false)) {
      ValidationResult result = validator.validate(parser);
      TreeMap<String, List<TestAssertion>> failed = new TreeMap<>();
      for (TestAssertion assertion : result.getTestAssertions()) {
        if (assertion.getStatus() != TestAssertion.Status.FAILED) continue;
        String rule = assertion.getRuleId().getClause() + "-" + assertion.getRuleId().getTestNumber();
        failed.computeIfAbsent(rule, unused -> new ArrayList<>()).add(assertion);
      }
      failed.forEach((rule, all) -> {
        TestAssertion first = all.get(0);
        String words = (first.getErrorMessage() + " @ " + first.getLocation().getContext()).replaceAll("\\s+", " ");
        System.out.println(String.join("\t", "failed", rule, String.valueOf(all.size()), words));
      });
      System.out.println(String.join("\t", "checked", String.valueOf(result.getTotalAssertions()), argument));
    }
  }

  /** The profile as it lies in the engine; its own reader of profiles needs JAXB, which no JDK has had since 11. */
  private static ValidationProfile profileOf(PDFAFlavour flavour) throws Exception {
    String id = flavour.getId();
    String name = id.startsWith("ua") ? "PDFUA-" + id.substring(2) : "PDFA-" + id.toUpperCase();
    DocumentBuilderFactory builders = DocumentBuilderFactory.newInstance();
    builders.setNamespaceAware(true);
    Element root;
    try (InputStream stream = Archive.class.getResourceAsStream("/org/verapdf/pdfa/validation/" + name + ".xml")) {
      root = builders.newDocumentBuilder().parse(stream).getDocumentElement();
    }
    Set<Rule> rules = new LinkedHashSet<>();
    for (Element rule : below(only(root, "rules"), "rule")) rules.add(ruleOf(rule));
    Set<Variable> variables = new LinkedHashSet<>();
    for (Element group : below(root, "variables")) {
      for (Element each : below(group, "variable")) {
        variables.add(Profiles.variableFromValues(each.getAttribute("name"), each.getAttribute("object"), textOf(each, "defaultValue"), textOf(each, "value")));
      }
    }
    return Profiles.profileFromValues(flavour, Profiles.profileDetailsFromValues(name, "", "", new Date(0)), "", rules, variables);
  }

  private static Rule ruleOf(Element rule) {
    Element id = only(rule, "id");
    Element error = only(rule, "error");
    List<ErrorArgument> words = new ArrayList<>();
    for (Element group : below(error, "arguments")) {
      for (Element each : below(group, "argument")) {
        words.add(ErrorArgumentImpl.fromValues(each.getTextContent(), each.hasAttribute("name") ? each.getAttribute("name") : null, null));
      }
    }
    PDFAFlavour.Specification specification = PDFAFlavour.Specification.valueOf(id.getAttribute("specification"));
    int number = Integer.parseInt(id.getAttribute("testNumber"));
    Boolean deferred = rule.hasAttribute("deferred") ? Boolean.valueOf(rule.getAttribute("deferred")) : null;
    return Profiles.ruleFromValues(
        Profiles.ruleIdFromValues(specification, id.getAttribute("clause"), number), rule.getAttribute("object"), deferred, rule.getAttribute("tags"),
        textOf(rule, "description"), textOf(rule, "test"), Profiles.errorFromValues(textOf(error, "message"), words), new ArrayList<>());
  }

  private static List<Element> below(Element parent, String name) {
    List<Element> found = new ArrayList<>();
    for (Node node = parent.getFirstChild(); node != null; node = node.getNextSibling()) {
      if (node instanceof Element && name.equals(node.getLocalName())) found.add((Element) node);
    }
    return found;
  }

  private static Element only(Element parent, String name) {
    List<Element> found = below(parent, name);
    if (found.isEmpty()) throw new IllegalArgumentException("A profile without <" + name + ">");
    return found.get(0);
  }

  private static String textOf(Element parent, String name) {
    List<Element> found = below(parent, name);
    return found.isEmpty() ? "" : found.get(0).getTextContent();
  }
}
